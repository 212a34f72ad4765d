package fault

type stopped struct{ err error }

// Check stops the action at an error. Only what runs inside [Caught] may call it: code that
// does one thing after the other and has nothing to do about an error.
func Check(err error) {
	if err != nil {
		panic(stopped{err})
	}
}

// Need stops the action with an error unless something is so.
func Need(so bool, otherwise error) {
	if !so {
		Check(otherwise)
	}
}

// Must returns what came without an error, or stops the action.
func Must[T any](v T, err error) T {
	Check(err)
	return v
}

// Must2 is [Must] for two values.
func Must2[T, U any](v T, w U, err error) (T, U) {
	Check(err)
	return v, w
}

// Caught runs an action and returns the error that it stops at. Any other panic goes on.
func Caught(action func()) (err error) {
	defer func() {
		switch r := recover().(type) {
		case nil:
		case stopped:
			err = r.err
		default:
			panic(r)
		}
	}()
	action()
	return nil
}
