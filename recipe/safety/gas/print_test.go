package gas

import "testing"

func TestText(t *testing.T) {
	for x, want := range map[float64]string{0: "<0.001", 0.0021: "0.0021", 5.04: "5.0", 1234: "1,200"} {
		if got := Text(x, 2); got != want {
			t.Errorf("%g is %q, want %q", x, got, want)
		}
	}
	middle := 5.0
	for want, got := range map[string]string{"5.0": Band(&middle, 1, 9), "<0.001": Band(nil, 0, 0.0001), "1 to 9": Band(nil, 1, 9)} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestRoomIsRead(t *testing.T) {
	for text, want := range map[string]Room{"32 m3": {VolumeM3: 32, AirChangesPerHour: 4}, " Outdoors": {Outdoors: true}} {
		r := Room{AirChangesPerHour: 4}
		if err := r.Read(text); err != nil || r != want {
			t.Errorf("%q is %+v, %v", text, r, err)
		}
	}
	for _, text := range []string{"0 m3", "-3 m3", "32", "hall", "1 m3"} {
		if err := new(Room).Read(text); err == nil {
			t.Errorf("%q passed", text)
		}
	}
}
