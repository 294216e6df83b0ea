package recipe

import (
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
)

// A number may be written twice, as papers have it: 27.0 ± 0.5 mm (1 1/16 in).
// The first counts; that both are one is looked at by CheckPaper.

const bracketsForm = "in brackets stands the same number in another unit: 27.0 ± 0.5 mm (1 1/16 in)"

// tolerance reads a target's first column, and refuses a second that is no
// number.
func (b *binder) tolerance(t *target, k quantity.Kind) (quantity.Tolerance, error) {
	style := quantity.Style{Want: k, Point: t.flow}
	first, second, at := quantity.Columns(t.tolerance.Value)
	tol, err := quantity.ParseTolerance(first, style)
	if err != nil {
		form := formOf(k)
		if k == quantity.Length && strings.Contains(first, " = ") {
			form, err = bracketsForm, hintless(err)
		}
		b.fault("recipe/bad-tolerance", t.tolerance, err, form)
		return tol, err
	}
	tol.Text = strings.TrimSpace(t.tolerance.Value)
	return tol, b.second("recipe/bad-tolerance", t.tolerance, second, at, style)
}

func hintless(err error) error {
	if e, ok := err.(*quantity.Error); ok {
		c := *e
		c.Hint = ""
		return &c
	}
	return err
}

// second reports a second column that cannot be read.
func (b *binder) second(code string, t diagnostic.Text, second string, at int, style quantity.Style) error {
	if second == "" && at == 0 {
		return nil
	}
	_, err := quantity.PrintedIn(second, style)
	if err == nil {
		return nil
	}
	if e, ok := err.(*quantity.Error); ok {
		b.list.Hinted(code, t.Span(at+e.From, at+e.To), bracketsForm, "%s", e.Message)
		return err
	}
	b.list.Hinted(code, t.Whole, bracketsForm, "%s", err.Error())
	return err
}

// settingValue reads a setting's first column.
func (b *binder) settingValue(s setting) (quantity.Entered, error) {
	first, second, at := quantity.Columns(s.value.Value)
	v, err := quantity.ParseAny(first, quantity.Style{Point: s.flow})
	if err == nil {
		b.second("recipe/bad-value", s.value, second, at, quantity.Style{Want: v.Value.Kind, Point: s.flow})
	}
	return v, err
}
