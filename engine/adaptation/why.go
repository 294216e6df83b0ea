package adaptation

import "strings"

// WhyOf is the reason the player gave for a difference between origin and own
// version; "" where none is given.
func (o *Own) WhyOf(d Difference) string {
	in := func(all []Value) string {
		for _, v := range all {
			if v.Name.Value == d.Name {
				return v.Why
			}
		}
		return ""
	}
	switch {
	case d.Kind == SettingDiffers:
		return in(o.Settings)
	case d.Kind == TargetDiffers && d.Stage == "":
		return in(o.Targets)
	}
	general := ""
	for _, c := range o.Changes {
		name := strings.TrimSpace(c.Stage.Value)
		if name != d.Stage && name != d.Was && (c.Rename == "" || c.Rename != d.Stage) {
			continue
		}
		if d.Kind == TargetDiffers {
			if w := in(c.Targets); w != "" {
				return w
			}
		}
		fits := d.Kind == StageMoved && c.Verb == Move || d.Kind == StageGone && c.Verb == LeaveOut || d.Kind == StageAdded && c.Verb == Add ||
			(d.Kind == KeyDiffers || d.Kind == TargetDiffers || d.Kind == StageRenamed) && c.Verb == ChangeStage
		if fits && c.Why != "" {
			general = c.Why
		}
	}
	return general
}
