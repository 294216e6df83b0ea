package recipe

// tubes finds the split and says of each stage whether it is worked on tubes:
// all up to the split are, all behind it are worked on pieces.
func (b *binder) tubes(flat []flatStage) {
	split := -1
	for i := range b.Stages {
		if b.Stages[i].Into == 0 {
			continue
		}
		if split >= 0 {
			b.list.Hinted("recipe/tube", flat[i].raw.into.Whole, "leave into: out at all stages but one", "tubes are split already at %q", clip(b.Stages[split].Name))
			return
		}
		split = i
	}
	for i, f := range flat {
		who := f.raw.who
		st := &b.Stages[i]
		st.Tube = i <= split
		switch {
		case split < 0 && who.Value == "each tube":
			b.list.Hinted("recipe/tube", who.Whole, "write into: 4 pieces at the stage that splits them", "no stage splits the tubes into pieces")
			return
		case !st.Tube && who.Value == "each tube":
			b.list.Hinted("recipe/tube", who.Whole, "write for: each piece, or move the stage before the split", "the tubes are split at %q, before this stage", clip(b.Stages[split].Name))
		case st.Tube && !st.Each.Batch && who.Value != "each tube":
			place := who.Whole
			if place.Source == nil {
				place = f.raw.name.Whole
			}
			b.list.Hinted("recipe/tube", place, "write for: each tube, or for: the batch", "there are only tubes up to the split at %q", clip(b.Stages[split].Name))
		case st.Tube && i == split && st.Each.Batch:
			b.list.Hinted("recipe/tube", who.Whole, "write for: each tube", "each tube is split by itself")
		case i == split && st.Wait != nil:
			b.list.Hinted("recipe/tube", f.raw.wait.place, "write the wait as a stage of its own, for the pieces", "the tube is gone when this wait begins")
		case !st.Tube:
			b.backToTube(flat[i], st, split)
		}
	}
	b.Split = split
}

// backToTube refuses a way back that would make a tube of pieces again.
func (b *binder) backToTube(f flatStage, st *Stage, split int) {
	for _, o := range st.outcomes() {
		if o.How == BackTo && o.To <= split {
			b.list.Hinted("recipe/tube", f.raw.name.Whole, "go back to a stage behind the split", "a piece cannot go back to %q, which is worked on tubes", clip(b.Stages[o.To].Name))
			return
		}
	}
}
