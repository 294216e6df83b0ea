package tool

import (
	"slices"
	"strings"
)

// stem gives a word that nobody knows the classes its letters suggest: silence
// would be worse than a warning too many.
type stem struct {
	letters string
	classes []string
}

// Unknown is a tool that is not in the catalogue. It belongs to "unknown
// tool", and to what parts of its word suggest: a "camping stove" burns.
func Unknown(word string) Tool {
	t := Tool{Name: strings.Join(strings.Fields(word), " "), Unknown: true, Classes: []string{"unknown tool"}}
	t.Classes = suggested(t.Classes, word, []stem{
		{"knife", []string{"blade"}}, {"blade", []string{"blade"}}, {"razor", []string{"blade", "loose blade"}},
		{"chisel", []string{"blade"}}, {"saw", []string{"blade"}}, {"scraper", []string{"blade"}}, {"shear", []string{"blade"}}, {"scissor", []string{"blade"}},
		{"cutter", []string{"blade", "lever"}}, {"clipper", []string{"blade", "lever"}}, {"guillotine", []string{"blade", "lever"}},
		{"split", []string{"blade", "splitting"}}, {"goug", []string{"blade", "machine"}}, {"profil", []string{"blade", "machine"}}, {"plane", []string{"blade", "machine"}},
		{"shaper", []string{"blade", "shaping"}}, {"needle", []string{"point"}}, {"awl", []string{"point"}},
		{"reamer", []string{"blade", "pushed in"}}, {"mandrel", []string{"pushed in"}}, {"drill", []string{"pushed in", "motor"}},
		{"motor", []string{"motor"}}, {"electric", []string{"motor"}}, {"power", []string{"motor"}}, {"grind", []string{"motor", "dust"}}, {"lathe", []string{"motor", "dust"}},
		{"sand", []string{"dust"}}, {"abrasive", []string{"dust"}}, {"file", []string{"dust"}},
		{"stone", []string{"sharpening"}}, {"strop", []string{"sharpening"}}, {"sharpen", []string{"sharpening"}},
		{"plier", []string{"pliers"}}, {"nipper", []string{"cutting wire"}}, {"wire", []string{"cutting wire"}},
		{"torch", []string{"flame", "ignition"}}, {"burner", []string{"flame", "ignition"}}, {"flame", []string{"flame", "ignition"}},
		{"stove", []string{"flame", "ignition"}}, {"candle", []string{"flame", "ignition"}}, {"lighter", []string{"flame", "ignition"}}, {"match", []string{"flame", "ignition"}},
		{"heat", []string{"hot tool", "ignition"}}, {"hot", []string{"hot tool", "ignition"}}, {"iron", []string{"hot tool", "ignition"}}, {"oven", []string{"hot tool", "ignition"}},
		{"kettle", []string{"hot water"}}, {"boiler", []string{"hot water"}}, {"steam", []string{"hot water"}},
	})
	return t
}

// UnknownMaterial is a material that is not in the catalogue. A word that
// suggests a glue, a finish or another chemical makes it an unknown product,
// with everything such a product may be.
func UnknownMaterial(word string) Material {
	m := Material{Name: strings.Join(strings.Fields(word), " "), Unknown: true, Classes: []string{"unknown material"}}
	chemical := []string{"unknown product", "adhesive", "finish", "flammable"}
	var stems []stem
	for _, s := range []string{
		"glue", "cement", "adhesive", "varnish", "lacquer", "finish", "solvent", "paint", "thinner", "spirit", "resin", "sealer", "sealant",
		"polish", "primer", "hardener", "remover", "spray", "dye", "stain", "bleach", "acid", "cleaner", "fluid", "liquid", "acetate", "ether", "petrol", "benzene", "toluene", "hexane", "xylene",
	} {
		stems = append(stems, stem{s, chemical})
	}
	stems = append(stems,
		stem{"cyano", []string{"cyanoacrylate"}}, stem{"epox", []string{"epoxy"}}, stem{"wire", []string{"wire", "metal"}},
		stem{"cotton", []string{"cotton"}}, stem{"mould", []string{"mould"}}, stem{"mold", []string{"mould"}}, stem{"boiling", []string{"hot water"}},
		stem{"alcohol", []string{"solvent", "spirit", "flammable"}}, stem{"peroxide", []string{"disinfectant"}}, stem{"disinfect", []string{"disinfectant"}})
	m.Classes = suggested(m.Classes, word, stems)
	if slices.Contains(m.Classes, "unknown product") {
		m.Classes = m.Classes[1:] // the graver of the two says it all
	}
	return m
}

func suggested(to []string, word string, stems []stem) []string {
	w := plain(word)
	for _, s := range stems {
		if !strings.Contains(w, s.letters) {
			continue
		}
		for _, c := range s.classes {
			to = addWord(to, c)
		}
	}
	return to
}
