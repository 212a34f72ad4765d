package main

import (
	"os"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"hepar": func() {
			setClock()
			main()
		},
	})
}

// setClock sets the clock of a test binary to HEPAR_NOW and its lead-in to HEPAR_LEAD,
// where they are given.
func setClock() {
	if d, err := time.ParseDuration(os.Getenv("HEPAR_LEAD")); err == nil {
		leadIn = d
	}
	at := os.Getenv("HEPAR_NOW")
	if at == "" {
		return
	}
	t, err := time.Parse(time.RFC3339, at)
	if err != nil {
		panic(err)
	}
	wallClock = func() time.Time { return t }
}

// TestScripts runs whole commands as a person would type them, each script in an
// empty home of its own.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/scripts",
		RequireExplicitExec: true,
		UpdateScripts:       os.Getenv("HEPAR_UPDATE") != "",
		Setup: func(env *testscript.Env) error {
			env.Setenv("HOME", env.WorkDir)
			env.Setenv("XDG_DATA_HOME", env.WorkDir+"/data")
			env.Setenv("XDG_CONFIG_HOME", env.WorkDir+"/config")
			env.Setenv("HEPAR_NOW", "2026-03-02T09:30:00+01:00")
			env.Setenv("TERM", "xterm")
			return nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"exitcode": exitCodeIs,
			"maxwidth": maxWidth,
			"maxlines": maxLines,
		},
	})
}
