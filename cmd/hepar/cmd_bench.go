package main

import (
	"crypto/rand"
	"fmt"
	"net"
	"net/http"
	"path/filepath"
	"time"

	"github.com/urfave/cli/v2"

	"hepar/cmd/hepar/bench"
	"hepar/cmd/hepar/tablet"
	"hepar/journal"
	"hepar/recipe/bath/page"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/safety"
)

func benchCommand(e *env) *cli.Command {
	return command("bench", "show the run of a batch on a tablet beside the bath",
		at(e, func(p *place) { fault.Check(runBench(p)) }),
		text("listen", "ADDRESS: address of this machine in the workshop's network (default: only this machine can open the page)"),
		text("port", "NUMBER: the port (default 8017)"),
		text("by", "NAME: person to record if the page gives no name"))
}

func runBench(p *place) error {
	c := p.Context
	port := 8017
	fault.Check(take(c, "port", countUpTo(1, 65535), &port))
	host, code := "127.0.0.1", ""
	if c.IsSet("listen") {
		ip := net.ParseIP(c.String("listen"))
		refuse(ip == nil || ip.IsUnspecified() || ip.IsMulticast(),
			fault.Usagef("%q is not the address of one machine", measure.Clean(c.String("listen"))).At("--listen").
				Try("write the address of this machine in the workshop's network, such as 192.168.1.20"))
		if host = ip.String(); !ip.IsLoopback() {
			code = rand.Text()[:8]
		}
	}
	address := net.JoinHostPort(host, fmt.Sprint(port))
	listener, err := net.Listen("tcp", address)
	refuse(err != nil,
		fault.Failuref("hepar cannot listen on %s", address).Because(err).Try("choose another --port, or the address of this machine with --listen"))
	hosts := []string{address}
	if host == "127.0.0.1" {
		hosts = append(hosts, fmt.Sprintf("localhost:%d", port))
	}
	handler := tablet.New(tablet.Options{
		Journal: p.journal, Hosts: hosts, Code: code, Photos: filepath.Join(filepath.Dir(p.journal.Path()), "photos"), Now: p.now, Full: p.shop.Full,
		Open:  func(ref string) *bench.Bench { return p.bench(ref, p.person(p.String("by"))) },
		Waste: func(ref string, w journal.Waste) { fault.Must(addWaste(p, ref, w, true)) },
		Subject: func(batch journal.Batch) safety.Subject {
			sub := subjectOf(batch)
			takeSafety(p, &sub)
			return sub
		},
	})
	server := &http.Server{Handler: handler, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 30 * time.Second,
		WriteTimeout: 30 * time.Second, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 16 << 10}
	url := "http://" + address + "/"
	p.say("open %s\n", url)
	if code != "" {
		p.say("pair a tablet, once, with the code %s-%s\n\n%s\n", code[:4], code[4:], page.Scan(url+"pair?code="+code))
		p.put("", "Anyone in this network can read what is sent over it: use the workshop's own network. Keep the tablet awake. Ctrl-C ends hepar bench.")
	}
	fault.Check(p.flush())
	return fault.Failuref("the page has stopped").Because(server.Serve(listener)).Try("start hepar bench again; everything written down is kept")
}

// bench opens the run of a batch, whether it may be dipped or not.
func (p *place) bench(ref, by string) *bench.Bench {
	batch := fault.Must(p.journal.Get(ref))
	d, r := frozen(batch)
	b := &bench.Bench{Journal: p.journal, By: by, Units: p.units, Now: p.now, Recipe: r, Sheet: d.Sheet}
	b.Take(batch)
	return b
}
