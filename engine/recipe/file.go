package recipe

import (
	"canewright/engine/diagnostic"
	"canewright/engine/yamldoc"
)

// File is a recipe as written. Its texts know their places.
type File struct {
	Source     *diagnostic.Source
	Title      string
	ID         string
	Version    int
	Instrument string // "bassoon"; empty for a checklist without dimensions
	Major      int    // of the dimension set
	Author     string
	Licence    string
	About      string

	instrument diagnostic.Span
	aboutText  diagnostic.Text
	stagesAt   diagnostic.Span
	sure       *yamldoc.Node
	settings   []setting
	targets    []target
	symptoms   []symptom
	remedies   []remedy
	stages     []*stage
}

type setting struct {
	name, value, why diagnostic.Text
	flow             bool
}

// target is one entry under "targets": a tolerance with what follows, or the
// rows of a blade grid.
type target struct {
	name         diagnostic.Text
	flow         bool
	tolerance    diagnostic.Text // of a plain dimension; of a grid, "within"
	above, below *outcome
	grid         *grid
}

type grid struct {
	place  diagnostic.Span
	from   diagnostic.Text
	at     diagnostic.Text
	lanes  []lane
	within diagnostic.Text
}

type lane struct{ name, values diagnostic.Text }

type outcome struct {
	place       diagnostic.Span
	word        diagnostic.Text // "once more", "set aside" …
	backTo      diagnostic.Text // "go back to"
	atMost      diagnostic.Text
	then        *outcome // after "at most"
	do, because diagnostic.Text
}

type stage struct {
	place      diagnostic.Span
	name       diagnostic.Text
	who        diagnostic.Text // "for"
	why        diagnostic.Text // "because"
	tools      []diagnostic.Text
	materials  []diagnostic.Text
	do         []diagnostic.Text
	uses       []diagnostic.Text
	takesOff   []diagnostic.Text
	condition  diagnostic.Text
	becomes    diagnostic.Text
	markAgain  diagnostic.Text
	into       diagnostic.Text
	noWayBack  diagnostic.Text
	again      diagnostic.Text
	times      diagnostic.Text
	targets    []target
	measures   []measure
	rules      []rule
	look       *look
	wait       *wait
	stages     []*stage
	hasAgain   bool
	hasInner   bool
	givenTools bool
	own        []diagnostic.Span // keys that mean nothing over nested stages
	origins    []string          // names of the stages that "again" took it from
}

type measure struct {
	place            diagnostic.Span
	take             diagnostic.Text
	repeat, at, with diagnostic.Text
	who, lanes       diagnostic.Text
}

type rule struct {
	that, because diagnostic.Text
	otherwise     *outcome
}

type look struct {
	place    diagnostic.Span
	question diagnostic.Text
	several  diagnostic.Text
	answers  []answer
}

type answer struct {
	word    diagnostic.Text
	outcome *outcome
}

type wait struct {
	place                       diagnostic.Span
	least, usual, most          diagnostic.Text
	until, because              diagnostic.Text
	hasLeast, hasUsual, hasMost bool
}
