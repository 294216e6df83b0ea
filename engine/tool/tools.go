package tool

import "slices"

// tools is every tool of the catalogue.
func tools() []Tool {
	return slices.Concat(gauges(), blades(), pointed(), hot(), holders())
}

func blades() []Tool {
	blade := func(more ...string) []string { return append([]string{"blade"}, more...) }
	return []Tool{
		{Name: "knife", Aliases: []string{"knives", "reed knife", "reed knives", "scraping knife", "scraping knives", "scraper", "bevelled knife", "hollow-ground knife"}, Classes: blade()},
		{Name: "razor blade", Aliases: []string{"single-edge blade", "double-edge blade", "razor"}, Classes: blade("loose blade")},
		{Name: "hobby blade", Aliases: []string{"hobby knife", "hobby knives", "craft knife", "craft knives", "snap-off blade", "blade holder"}, Classes: blade("loose blade")},
		{Name: "scalpel", Aliases: []string{"scalpel blade"}, Classes: blade("loose blade")},
		{Name: "tube splitter", Aliases: []string{"splitter", "cane splitter", "splitting star"}, Classes: blade("splitting")},
		{Name: "splitting knife", Aliases: []string{"splitting knives", "froe"}, Classes: blade("splitting")},
		{Name: "saw", Aliases: []string{"fine saw", "cane saw"}, Classes: blade("dust")},
		{Name: "chisel", Classes: blade()},
		{Name: "scissors", Aliases: []string{"shears", "thread cutter"}, Classes: blade()},
		{Name: "gouger", Aliases: []string{"gouging machine", "hand gouge"}, Classes: blade("machine")},
		{Name: "pre-gouger", Aliases: []string{"pre-gouging machine"}, Classes: blade("machine")},
		{Name: "profiler", Aliases: []string{"profiling machine"}, Classes: blade("machine")},
		{Name: "tip profiler", Aliases: []string{"tip machine", "tip profiling machine", "tip finisher"}, Classes: blade("machine")},
		{Name: "plane", Aliases: []string{"hand plane", "bevelling plane", "push-through plane"}, Classes: blade("machine")},
		{Name: "shaper", Aliases: []string{"straight shaper", "fold-over shaper", "shaper tip", "shaper handle"}, Classes: blade("shaping")},
		{Name: "shaper blade", Aliases: []string{"shaping blade", "shaping knife"}, Classes: blade("shaping")},
		{Name: "guillotine", Aliases: []string{"cane guillotine"}, Classes: blade("lever")},
		{Name: "cane cutter", Aliases: []string{"length cutter"}, Classes: blade("lever")},
		{Name: "tip cutter", Aliases: []string{"tip guillotine", "tip clipper", "tip block", "clipper"}, Classes: blade("lever")},
	}
}

func pointed() []Tool {
	return []Tool{
		{Name: "scoring tool", Aliases: []string{"scorer", "scoring machine", "scoring tap", "scoring knife"}, Classes: []string{"point"}},
		{Name: "awl", Aliases: []string{"scriber", "bradawl"}, Classes: []string{"point"}},
		{Name: "needle", Aliases: []string{"sewing needle"}, Classes: []string{"point"}},
		{Name: "file", Aliases: []string{"needle file", "diamond file", "flat file", "rat-tail file"}, Classes: []string{"dust"}},
		{Name: "sandpaper", Aliases: []string{"abrasive paper", "sanding block", "sanding stick", "wet and dry paper", "emery paper", "sanding dowel"}, Classes: []string{"dust"}},
		{Name: "reamer", Aliases: []string{"spiral reamer", "diamond reamer", "hand reamer"}, Classes: []string{"blade", "pushed in"}},
		{Name: "mandrel", Aliases: []string{"forming mandrel", "holding mandrel", "drying mandrel"}, Classes: []string{"pushed in"}},
		{Name: "forming pin", Aliases: []string{"drying pin", "pin", "pin block"}, Classes: []string{"pushed in"}},
		{Name: "drill", Aliases: []string{"hand drill", "drill bit", "twist drill"}, Classes: []string{"blade", "pushed in"}},
		{Name: "rotary tool", Aliases: []string{"electric drill", "power drill", "motor drill", "grinder", "bench grinder", "electric sander", "lathe"}, Classes: []string{"motor", "dust"}},
		{Name: "pliers", Aliases: []string{"plier", "reed pliers", "pincers"}, Classes: []string{"pliers"}},
		{Name: "wire cutter", Aliases: []string{"side cutter", "cutting pliers", "wire nippers", "nippers"}, Classes: []string{"cutting wire"}},
		{Name: "sharpening stone", Aliases: []string{"whetstone", "oilstone", "water stone", "ceramic stone", "stone"}, Classes: []string{"sharpening"}},
		{Name: "diamond plate", Aliases: []string{"diamond stone"}, Classes: []string{"sharpening"}},
		{Name: "strop", Aliases: []string{"leather strop"}, Classes: []string{"sharpening"}},
		{Name: "burnisher", Aliases: []string{"sharpening steel"}, Classes: []string{"sharpening"}},
	}
}

func hot() []Tool {
	return []Tool{
		{Name: "kettle", Aliases: []string{"water boiler"}, Classes: []string{"hot water"}},
		{Name: "pot", Aliases: []string{"saucepan", "cooking pot", "heated cup", "steamer"}, Classes: []string{"hot water"}},
		{Name: "heated mandrel", Aliases: []string{"hot mandrel", "warm mandrel", "warmed mandrel", "electric mandrel", "heated pin", "hot pin"}, Classes: []string{"hot tool", "ignition", "pushed in"}},
		{Name: "hot plate", Aliases: []string{"hotplate", "electric heater", "heater", "stove", "oven"}, Classes: []string{"hot tool", "ignition"}},
		{Name: "soldering iron", Classes: []string{"hot tool", "ignition"}},
		{Name: "hot air tool", Aliases: []string{"hot air gun", "heat gun", "hair dryer"}, Classes: []string{"hot tool", "ignition"}},
		{Name: "glue gun", Aliases: []string{"hot glue gun"}, Classes: []string{"hot tool"}},
		{Name: "spirit lamp", Aliases: []string{"alcohol lamp", "alcohol burner", "spirit burner"}, Classes: []string{"flame", "ignition"}},
		{Name: "lighter", Aliases: []string{"match", "matches", "matchstick"}, Classes: []string{"flame", "ignition"}},
		{Name: "candle", Aliases: []string{"tea light"}, Classes: []string{"flame", "ignition"}},
		{Name: "gas torch", Aliases: []string{"torch", "blowtorch", "blow torch", "gas burner", "gas flame", "burner", "gas stove"}, Classes: []string{"flame", "ignition"}},
		{Name: "wax pot", Aliases: []string{"wax melter"}, Classes: []string{"molten wax", "hot tool"}},
	}
}

func holders() []Tool {
	plain := []string{"holder"}
	return []Tool{
		{Name: "plaque", Aliases: []string{"tongue"}, Classes: plain},
		{Name: "clamp", Aliases: []string{"vice", "bench clamp", "cane clamp"}, Classes: plain},
		{Name: "easel", Aliases: []string{"cane easel", "measuring easel", "marking jig"}, Classes: plain},
		{Name: "cutting block", Aliases: []string{"block", "billot"}, Classes: plain},
		{Name: "pencil", Aliases: []string{"pen", "marker"}, Classes: plain},
		{Name: "brush", Aliases: []string{"small brush", "cleaning brush"}, Classes: plain},
		{Name: "string winder", Aliases: []string{"bobbin", "thread holder", "winding machine"}, Classes: plain},
		{Name: "tweezers", Aliases: []string{"tongs"}, Classes: plain},
		{Name: "cup", Aliases: []string{"soaking cup", "jar", "bowl", "reed cup", "glass"}, Classes: plain},
		{Name: "tray", Aliases: []string{"rack", "drying rack", "drying board", "reed case", "box"}, Classes: plain},
		{Name: "cloth", Aliases: []string{"towel", "paper towel"}, Classes: plain},
		{Name: "magnifier", Aliases: []string{"loupe", "magnifying glass"}, Classes: plain},
		{Name: "lamp", Aliases: []string{"light", "bench lamp"}, Classes: plain},
		{Name: "bocal", Aliases: []string{"crook"}, Classes: plain},
		{Name: "instrument", Aliases: []string{"bassoon", "contrabassoon", "oboe", "english horn", "oboe d'amore"}, Classes: plain},
		{Name: "bag", Aliases: []string{"envelope", "label"}, Classes: plain},
		{Name: "fingers", Aliases: []string{"hand", "hands", "finger", "thumb", "fingernail"}, Classes: plain},
	}
}
