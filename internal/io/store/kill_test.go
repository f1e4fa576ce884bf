package store_test

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/io/store"
)

// childSave saves until it is killed and says each time what was confirmed:
// "title UID TEXT" and "part UID TEXT".
func childSave(dir, round string) error {
	ctx := context.Background()
	fmt.Println("start")
	s, err := store.Open(ctx, dir, store.Options{})
	if err != nil {
		return err
	}
	fmt.Println("ready")
	n, err := strconv.Atoi(round)
	if err != nil {
		return err
	}
	for i := 0; ; i++ {
		c := clock(n*100_000 + i)
		c.Number = fmt.Sprintf("%d/%d", n, i)
		err := s.Update(ctx, "child", func(tx *store.Tx) (err error) {
			c, err = tx.AddClock(c)
			return err
		})
		if err != nil {
			return err
		}
		fmt.Println("title", c.UID, c.Title)
		for j := range 2 {
			text := fmt.Sprintf("train %d of %d", j, i)
			err := s.Update(ctx, "child", func(tx *store.Tx) error {
				v, err := tx.Survey(c.ID)
				if err != nil {
					return err
				}
				p := v[job.TrainPart]
				p.Values = map[string][]string{"train": {text}}
				_, err = tx.SavePart(c.ID, job.TrainPart, p)
				return err
			})
			if err != nil {
				return err
			}
			fmt.Println("part", c.UID, text)
		}
		c.Title = fmt.Sprintf("saved again %d", i)
		err = s.Update(ctx, "child", func(tx *store.Tx) error { _, err := tx.SaveClock(c); return err })
		if err != nil {
			return err
		}
		fmt.Println("title", c.UID, c.Title)
	}
}

// TestKill9 kills a process in the middle of its saves: what it has said to
// be kept is there, and the records are whole. SEATBOARD_KILL_ROUNDS says how
// often; 20 if it says nothing.
func TestKill9(t *testing.T) {
	rounds := 20
	if s := os.Getenv("SEATBOARD_KILL_ROUNDS"); s != "" {
		var err error
		if rounds, err = strconv.Atoi(s); err != nil {
			t.Fatal(err)
		}
	}
	if testing.Short() {
		rounds = 3
	}
	dir := t.TempDir()
	r := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 9))
	confirmed, unclean := 0, 0
	uids := map[string]bool{}
	for round := range rounds {
		said := killed(t, dir, round, time.Duration(15+r.IntN(200))*time.Millisecond)
		s := open(t, dir, store.Options{})
		if s.Health().Unclean {
			unclean++
		}
		for _, line := range said {
			field := strings.SplitN(line, " ", 3)
			if len(field) == 3 {
				confirmed++
				uids[field[1]] = true
				kept(t, s, field[0], field[1], field[2])
			}
		}
		whole(t, s)
		shut(t, s)
		if t.Failed() {
			t.Fatalf("round %d", round)
		}
	}
	s := open(t, dir, store.Options{})
	view(t, s, func(tx *store.Tx) error {
		for uid := range uids {
			if _, err := tx.ClockByUID(uid); err != nil {
				t.Errorf("%s of an earlier round: %v", uid, err)
			}
		}
		return nil
	})
	if confirmed == 0 || unclean == 0 {
		t.Errorf("%d saves confirmed, %d of %d rounds seen to be unclean: nothing was tried", confirmed, unclean, rounds)
	}
	t.Logf("%d rounds, %d saves confirmed, none lost, %d starts after an unclean end", rounds, confirmed, unclean)
}

// killed runs the child and kills it: in every third round counted from its
// start, when it may still be opening the folder, else from its first save.
// It gives the whole lines that the child has said.
func killed(t *testing.T, dir string, round int, after time.Duration) []string {
	t.Helper()
	c := child("save", dir, strconv.Itoa(round+1))
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	wait := "ready\n"
	if round%3 == 2 {
		wait = "start\n"
	}
	var said strings.Builder
	b := make([]byte, 1)
	for !strings.HasSuffix(said.String(), wait) {
		n, err := out.Read(b)
		if said.Write(b[:n]); err != nil {
			t.Fatalf("the child said %q: %v", said.String(), err)
		}
	}
	time.AfterFunc(after, func() { _ = c.Process.Kill() }) // Wait tells
	rest, err := io.ReadAll(out)
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Wait(); err == nil || strings.Contains(string(rest), "error") {
		t.Fatalf("the child ended by itself: %s", rest)
	}
	said.Write(rest)
	text := said.String()
	return strings.Split(text[:strings.LastIndexByte(text, '\n')+1], "\n")
}

// kept fails if a value that was confirmed is not in the file of its clock;
// a later one may stand there, but then the history has it.
func kept(t *testing.T, s *store.Store, kind, uid, text string) {
	t.Helper()
	view(t, s, func(tx *store.Tx) error {
		c, err := tx.ClockByUID(uid)
		if err != nil {
			t.Errorf("clock %s: %v", uid, err)
			return nil
		}
		v, err := tx.Survey(c.ID)
		if err != nil {
			return err
		}
		h, err := tx.Changes(c.ID)
		if err != nil {
			return err
		}
		now := c.Title
		if kind == "part" {
			now = v[job.TrainPart].Value("train")
		}
		if now == text {
			return nil
		}
		for _, x := range h {
			if x.Before == text {
				return nil
			}
		}
		t.Errorf("clock %s: %s %q is lost; there is %q", uid, kind, text, now)
		return nil
	})
}
