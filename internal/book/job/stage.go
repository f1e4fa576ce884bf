package job

// Stage is where a clock is in its journey through the shop.
type Stage string

// The stages, in the order of the job.
const (
	TakingIn   Stage = "taking-in"
	Surveying  Stage = "survey"
	TakingDown Stage = "taking-down"
	Work       Stage = "work"
	Case       Stage = "case"
	Trial      Stage = "trial"
	GoingHome  Stage = "going-home"
	GoneHome   Stage = "gone-home"
)

// Stages lists the stages in the order of the job.
func Stages() []Stage {
	return []Stage{TakingIn, Surveying, TakingDown, Work, Case, Trial, GoingHome, GoneHome}
}

// Known tells whether the stage is one of [Stages].
func (s Stage) Known() bool { return s.words() != "" }

// Words is the stage as shown on the page: "Taking in".
func (s Stage) Words() string {
	if w := s.words(); w != "" {
		return w
	}
	return string(s)
}

func (s Stage) words() string {
	switch s {
	case TakingIn:
		return "Taking in"
	case Surveying:
		return "Survey"
	case TakingDown:
		return "Taking down"
	case Work:
		return "Work"
	case Case:
		return "Case"
	case Trial:
		return "Trial"
	case GoingHome:
		return "Going home"
	case GoneHome:
		return "Gone home"
	}
	return ""
}
