package main

import (
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
	"syscall"
	"time"
)

// A job is what is timed. Goal is a share of the peer's time, limit so many
// seconds, and most the peak memory in MiB; 0 is for any.
type job struct {
	name       string
	rows       int
	before     func() error // untimed, before each run of either
	ours, peer []string
	stdin      string // of the peer
	goal       float64
	limit      float64
	most       float64
}

// used is what a process took.
type used struct{ wall, cpu, mib float64 }

func (b *bench) line(j job) (string, error) {
	var ours, peer []used
	for range b.pairs {
		u, err := b.timed(j.before, j.ours, "")
		if err != nil {
			return "", err
		}
		ours = append(ours, u)
		if j.peer == nil {
			continue
		}
		if u, err = b.timed(j.before, j.peer, j.stdin); err != nil {
			return "", err
		}
		peer = append(peer, u)
	}
	o := median(ours)
	against, ratio, goal, met := "", "", "", true
	if peer != nil {
		p := median(peer)
		against, ratio = fmt.Sprintf("%.3f", p.wall), fmt.Sprintf("%.2f", o.wall/p.wall)
		if j.goal > 0 {
			goal, met = fmt.Sprintf("%.2f", j.goal), o.wall/p.wall <= j.goal
		}
	}
	if j.limit > 0 {
		goal, met = strings.TrimSpace(fmt.Sprintf("%s %.2f s", goal, j.limit)), met && o.wall <= j.limit
	}
	if j.most > 0 {
		goal, met = fmt.Sprintf("%s, %.0f MiB", goal, j.most), met && o.mib <= j.most
	}
	verdict := ""
	if goal != "" {
		verdict = map[bool]string{true: "met", false: "short"}[met]
	}
	return fmt.Sprintf("%-44s %9d %8.3f %8s %7s %16s %-6s %8.2f %7.0f", j.name, j.rows, o.wall, against, ratio, goal, verdict, o.cpu, o.mib), nil
}

// timed runs a command to its end.
func (b *bench) timed(before func() error, command []string, stdin string) (used, error) {
	if before != nil {
		if err := before(); err != nil {
			return used{}, err
		}
	}
	cmd := exec.Command(command[0], command[1:]...)
	cmd.Dir = b.dir
	if stdin != "" {
		f, err := os.Open(stdin)
		if err != nil {
			return used{}, err
		}
		defer f.Close()
		cmd.Stdin = f
	}
	began := time.Now()
	out, err := cmd.CombinedOutput()
	u := used{wall: time.Since(began).Seconds()}
	if err != nil {
		return u, fmt.Errorf("%v: %w\n%s", command, err, tail(out))
	}
	u.cpu = (cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds()
	u.mib = float64(cmd.ProcessState.SysUsage().(*syscall.Rusage).Maxrss) / 1024
	return u, nil
}

func tail(out []byte) []byte { return out[max(0, len(out)-2000):] }

// median is each figure's own.
func median(runs []used) used {
	of := func(figure func(used) float64) float64 {
		var all []float64
		for _, u := range runs {
			all = append(all, figure(u))
		}
		slices.Sort(all)
		return all[len(all)/2]
	}
	return used{of(func(u used) float64 { return u.wall }), of(func(u used) float64 { return u.cpu }), of(func(u used) float64 { return u.mib })}
}
