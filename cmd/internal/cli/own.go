package cli

import (
	"strconv"
	"strings"

	"canewright/cmd/internal/wire"
	"canewright/engine/adaptation"
	"canewright/engine/diagnostic"
)

// owned is an own version as scripts read it.
type owned struct {
	File     string                  `json:"file"`
	Written  bool                    `json:"written"`
	ID       string                  `json:"id"`
	Version  int                     `json:"version"`
	Title    string                  `json:"title"`
	BuildsOn builtOn                 `json:"builds_on"`
	Changes  []adaptation.Difference `json:"changes"`
	Whys     []string                `json:"whys"` // one to each change; empty where none is given
}

type builtOn struct {
	ID      string `json:"id"`
	Version int    `json:"version"`
	SHA256  string `json:"sha256"`
}

func ownOf(t wire.Text, written bool) owned {
	o := owned{File: t.File, Written: written, ID: t.Own.ID, Version: t.Own.Version, Title: t.Own.Title,
		BuildsOn: builtOn{t.Own.Origin.ID, t.Own.Origin.Version, t.Own.Origin.SHA256}, Changes: []adaptation.Difference{}, Whys: []string{}}
	for _, d := range t.Own.Differences(t.Origin, t.Whole) {
		o.Changes, o.Whys = append(o.Changes, d), append(o.Whys, t.Own.WhyOf(d))
	}
	return o
}

// printOwn says what a player's version has otherwise, and why.
func (c *commander) printOwn(t wire.Text) {
	o := ownOf(t, true)
	c.wrap("", diagnostic.Clean(o.Title))
	on := o.BuildsOn.ID
	if t.Own.Origin.Title != "" {
		on = t.Own.Origin.Title + " (" + on + ")"
	}
	c.wrap("", diagnostic.Clean(o.ID)+", version "+strconv.Itoa(o.Version)+", builds on "+diagnostic.Clean(on)+", version "+strconv.Itoa(o.BuildsOn.Version))
	if len(o.Changes) == 0 {
		c.printf("\nNothing differs yet.\n")
		return
	}
	c.printf("\n")
	c.printChanges("", o)
}

// printChanges tells a target that is changed alike for the whole recipe and at
// a stage once.
func (c *commander) printChanges(lead string, o owned) {
	told := map[int]bool{}
	for i, d := range o.Changes {
		if told[i] {
			continue
		}
		var also []string
		if d.Kind == adaptation.TargetDiffers && d.Stage == "" {
			for k, e := range o.Changes {
				if e.Kind == d.Kind && e.Stage != "" && e.Name == d.Name && e.Was == d.Was && e.Now == d.Now && o.Whys[k] == o.Whys[i] {
					told[k] = true
					also = append(also, e.Stage)
				}
			}
		}
		c.printDifferenceAt(lead, d, "left out", o.Whys[i], also)
	}
}

// printDifference says what was and what is; gone is the word for a stage that
// is not there any more.
func (c *commander) printDifference(lead string, d adaptation.Difference, gone, why string) {
	c.printDifferenceAt(lead, d, gone, why, nil)
}

// printDifferenceAt is printDifference, and at which stages it is the same.
func (c *commander) printDifferenceAt(lead string, d adaptation.Difference, gone, why string, also []string) {
	head, was, now := told(d, gone)
	if len(also) > 0 {
		head += ", also at " + strings.Join(also, ", ")
	}
	c.wrap(lead, diagnostic.Clean(head))
	in := strings.Repeat(" ", len(lead)) + "   "
	if was != "" {
		c.wrap(in+"was ", diagnostic.Clean(was+inMillimetres(was)))
	}
	if now != "" {
		c.wrap(in+"now ", diagnostic.Clean(now+inMillimetres(now)))
	}
	if why != "" {
		c.wrap(in, diagnostic.Clean(why))
	}
}

// told are the words for a difference, and what to show of before and after.
func told(d adaptation.Difference, gone string) (head, was, now string) {
	at := d.Stage
	switch d.Kind {
	case adaptation.SettingDiffers:
		head = "setting " + d.Name
	case adaptation.TargetDiffers:
		head = "target " + d.Name
		if at != "" {
			head = at + ": " + head
		}
	case adaptation.KeyDiffers:
		head = at + ": " + d.Name
	case adaptation.StageAdded:
		return at + ": a new stage, " + d.Now, "", ""
	case adaptation.StageGone:
		return d.Was + ": this stage is " + gone, "", ""
	case adaptation.StageMoved:
		head = at + ": moved"
	case adaptation.StageRenamed:
		return d.Was + " is called " + d.Now, "", ""
	default:
		return "its " + d.Name, "", ""
	}
	was, now = d.Was, d.Now
	if was == "" {
		head += ", new"
	}
	if now == "" {
		head += ", " + gone
	}
	return head, was, now
}
