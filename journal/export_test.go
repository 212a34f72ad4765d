package journal

// StepStates returns the states of a batch in which an event of each kind is written.
func StepStates() map[string][]State {
	all := map[string][]State{}
	for kind, step := range steps {
		all[kind] = step.from
	}
	return all
}
