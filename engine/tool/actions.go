package tool

// actions is what the words of a stage tell. Spellings are plain; one final
// -s and a "the", "a", "your" … between two words are tolerated (spoken.go).
func actions() []Action {
	return []Action{
		{"scrape", []string{"scrape", "scraping", "scraped", "thin the tip", "thinning", "take wood off", "take cane off", "remove cane", "take off cane", "dust the tip", "dust the rail", "dust the blade", "clean the bark off", "take the bark off", "knife off", "define the back", "define the tip"}},
		{"cut", []string{"cut", "cutting", "trim", "trimming", "shave", "shaving", "slice", "carve", "pare", "paring", "notch"}},
		{"cut wire", []string{"cut wire", "cut first wire", "cut second wire", "cut third wire", "cutting wire", "trim wire", "clip wire", "snip wire", "snip", "nip off", "cut wire end", "trim wire end"}},
		{"cut the tip", []string{"cut tip", "cutting tip", "clip tip", "clipping tip", "clip", "clipping", "clipped", "open tip with the knife", "tip cut"}},
		{"cut to length", []string{"cut to length", "cutting to length", "cut to", "cut butt", "cut cane to length", "cut piece to length", "cut tube to length", "cut staple to length", "cut off the end", "trim butt", "saw", "sawing"}},
		{"split", []string{"split", "splitting", "quarter tube", "quarter cane"}},
		{"gouge", []string{"gouge", "gouging", "pre-gouge", "pre-gouging"}},
		{"profile", []string{"profile", "profiling", "plane", "planing"}},
		{"shape", []string{"shape", "shaping"}},
		{"score", []string{"score", "scoring", "scribe", "scribing", "pierce", "piercing"}},
		{"bevel", []string{"bevel", "bevelling", "beveling"}},
		{"ream", []string{"ream", "reaming", "drill", "drilling"}},
		{"form", []string{"form blank", "form tube", "form reed", "form throat", "forming", "on to mandrel", "onto mandrel", "push mandrel"}},
		{"sand", []string{"sand", "sanding", "sanded"}},
		{"file", []string{"file", "filing", "filed"}},
		{"sweep dust", []string{"sweep up", "blow dust", "blow off dust", "brush off dust"}},
		{"sharpen", []string{"sharpen", "sharpening", "hone", "honing", "whet", "grind", "grinding"}},
		{"strop", []string{"strop", "stropping", "burnish", "burnishing", "turn burr", "raise burr"}},
		{"twist wire", []string{"twist wire", "put on wire", "put wire on", "wire on", "twisting wire", "tighten wire", "tighten first wire", "tighten second wire", "tighten third wire", "pull wire tight", "add wire", "place wire", "first wire on", "second wire on", "third wire on"}},
		{"squeeze", []string{"squeeze", "squeezing", "round tube", "round wire", "open wire", "flatten wire", "open tip", "close tip", "adjust wire", "adjust opening"}},
		{"heat", []string{"heat", "heating", "warm mandrel", "warm pin", "scorch", "shrink on", "solder", "soldering"}},
		{"flame", []string{"flame", "in flame", "over flame", "light lamp", "light candle", "burn off", "singe", "singeing"}},
		{"soak hot", []string{"boil", "boiling", "boiled", "soak hot", "hot soak", "simmer", "steam", "steaming", "pour hot", "scald"}},
		{"melt wax", []string{"melt", "melting", "melt wax", "dip in wax", "hot wax"}},
		{"glue", []string{"glue", "glueing", "gluing", "glued", "cement", "cementing", "stick down"}},
		{"seal", []string{"seal", "sealing", "sealed"}},
		{"varnish", []string{"varnish", "varnishing", "lacquer", "lacquering", "coat", "coating", "paint", "painting", "dip thread"}},
		{"play", []string{"play", "playing", "crow", "crowing", "blow reed", "play test", "test on the instrument", "try on the instrument", "try on the bocal", "free-blow", "buzz", "in mouth", "in your mouth", "between lips", "suck", "suction test", "tongue a note"}},
		{"share", []string{"share", "sharing", "try student's reed", "try pupil's reed", "student's reed", "pupil's reed", "hand it to another player", "another player"}},
		{"disinfect", []string{"disinfect", "disinfecting", "sanitise", "sanitize", "sterilise", "sterilize"}},
		{"handle mould", []string{"mouldy", "moldy", "mould on", "mold on", "mildew"}},
		{"clean the machine", []string{"clear shavings", "clear the shavings", "set blade", "setting blade", "change blade", "adjust blade"}},
		{"pass a blade", []string{"pass knife", "pass tool", "throw away blade", "dispose of blade"}},
	}
}
