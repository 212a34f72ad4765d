package fault

import (
	"errors"
	"testing"
)

// TestCaught: an action stops at its first error, which is returned; a panic that is no
// error goes on.
func TestCaught(t *testing.T) {
	wrong, after := errors.New("no unit"), false
	err := Caught(func() {
		if v, w := Must2(Must(1, nil), "two", nil); v != 1 || w != "two" {
			t.Errorf("the values are %d and %q", v, w)
		}
		Must(0, wrong)
		after = true
	})
	if err != wrong || after {
		t.Errorf("it returns %v; what stands behind the error ran: %v", err, after)
	}
	if err := Caught(func() {}); err != nil {
		t.Errorf("an action without an error returns %v", err)
	}
	defer func() {
		if r := recover(); r != "a fault" {
			t.Errorf("of a panic comes %v", r)
		}
	}()
	Caught(func() { panic("a fault") })
}
