package mesh
import ("testing";"seatboard/internal/craft/tooth";"seatboard/internal/kit/unit";"seatboard/internal/craft/train")
func TestLook(t *testing.T){
 for _,f:=range []tooth.Form{tooth.Exact,tooth.Rounded,tooth.Arcs,tooth.LanternOf}{
 for _,n:=range []int{6,8,10,16}{
  p,err:=tooth.Design{Form:f,Wheel:60,Leaves:8,Module:unit.Millimetres(1)}.Pair()
  if n!=8 {p,err=tooth.Design{Form:f,Wheel:train.Teeth(n*15/2),Leaves:train.Teeth(n),Module:unit.Millimetres(1)}.Pair()}
  if err!=nil {t.Log(f,n,err);continue}
  s:=shapeOf(p)
  c:=p.Distance.MM()
  t.Log(f,n,c)
  sw:=s.sweep(c-0.7,c+0.9,17,0.2)
  for _,d:=range sw { t.Logf("%+.2f app %.2f rec %.2f ratio %.3f..%.3f weak %.3f mean %.3f drop %.3f butts %.3f play %.2f bot %.2f %s",d.Distance-c,d.Approach*57.29578,d.Recess*57.29578,d.Slowest,d.Fastest,d.Weakest,d.Mean,d.Drop*57.3,d.Butts*57.3,d.Play*57.3,d.Bottom,d.State)}
  b,ok:=s.best(sw,0.2)
  t.Log(ok,b.Distance-c,b.Weakest)
 }}
}
