package host

import (
	"fmt"
	"slices"
	"strings"

	"canewright/plugins/proto"
)

// NotFoundError: no plugin has this name.
type NotFoundError struct {
	Name  string
	Known []string
}

func (e *NotFoundError) Error() string {
	s := fmt.Sprintf("find instrument %q: there is none of this name", clip(printable(e.Name)))
	if len(e.Known) > 0 {
		s += "; there is " + strings.Join(e.Known, ", ")
	}
	return s
}

// VersionError: recipe, plugin and canewright do not fit together.
type VersionError struct {
	Name   string
	What   string // what does not fit
	Older  string // "the plugin", "the recipe" or "canewright"
	Update string // what to do about it
}

func (e *VersionError) Error() string {
	return fmt.Sprintf("instrument %s: %s; %s is older: %s", e.Name, e.What, e.Older, e.Update)
}

func wireFault(name string, plugin int) error {
	e := &VersionError{Name: name, What: fmt.Sprintf("the plugin speaks wire %d, canewright wire %d", plugin, proto.Wire)}
	e.Older, e.Update = "the plugin", "update the plugin "+name
	if plugin > proto.Wire {
		e.Older, e.Update = "canewright", "update canewright, or take an earlier plugin "+name
	}
	return e
}

func capabilityFault(name string, needs []string) error {
	return &VersionError{
		Name: name, What: fmt.Sprintf("the plugin needs %s", clip(printable(strings.Join(needs, ", ")))),
		Older: "canewright", Update: "update canewright, or take an earlier plugin " + name,
	}
}

// majorFault: has is sorted and does not hold asked.
func majorFault(name string, asked int, has []int) error {
	words := make([]string, len(has))
	for i, m := range has {
		words[i] = fmt.Sprint(m)
	}
	e := &VersionError{Name: name, What: fmt.Sprintf("the recipe asks for dimension set %s %d, the plugin has %s", name, asked, strings.Join(words, ", "))}
	e.Older, e.Update = "the plugin", "update the plugin "+name
	if asked < slices.Max(has) {
		e.Older, e.Update = "the recipe", fmt.Sprintf("write instrument: %s %d and check the recipe, or take an earlier plugin", name, slices.Max(has))
	}
	return e
}

// BrokenError: a plugin does not do what it should.
type BrokenError struct {
	Name   string
	What   string // what it did: "ended before it was ready (exit status 1)"
	Cause  error  // may be nil
	Stderr string // what it wrote on its standard error, safe to show
}

// Error is one line; it holds the first line of Stderr only.
func (e *BrokenError) Error() string {
	s := fmt.Sprintf("instrument %s: its plugin %s", e.Name, e.What)
	if line, _, _ := strings.Cut(e.Stderr, "\n"); line != "" {
		s += fmt.Sprintf("; it wrote %q", clip(line))
	}
	return s
}

func (e *BrokenError) Unwrap() error { return e.Cause }
