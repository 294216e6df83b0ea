package bassoon_test

import (
	"strings"
	"testing"

	"canewright/plugins/sdk"
)

// value is one number or end of a range that somebody gives for a dimension.
type value struct{ name, value, who string }

// cited is every number the sources give, from both sides where they disagree.
// Who says it stands beside it; "memory" and "practice" have no source, "worked"
// is arithmetic on the others.
func cited() []value {
	return []value{
		{"tube.narrowest", "24 mm", "Low-Atwater 2021"},
		{"tube.narrowest", "25 mm", "Low-Atwater 2021"},
		{"tube.narrowest", "24 mm", "Boldt-Neurohr"},
		{"tube.narrowest", "23 mm", "Harris 2016"},
		{"tube.widest", "26 mm", "Low-Atwater 2021"},
		{"tube.widest", "27 mm", "Boldt-Neurohr"},
		{"tube.widest", "1 in", "everything2"},
		{"tube.widest", "26 mm", "Harris 2016"},
		{"cane.length", "120 mm", "schuflo; Stowell p. 16; medpants"},
		{"cane.length", "4 3/4 in", "everything2"},
		{"gouge.centre", "1.25 mm", "Stowell p. 16; London Fields, Longitudinal"},
		{"gouge.centre", "1.3 mm", "Stowell p. 16"},
		{"gouge.centre", "1.2 mm", "Stowell, Gouging (older page)"},
		{"gouge.centre", "1.00 mm", "London Fields, Longitudinal (old hand gouge, middle)"},
		{"gouge.centre", "0.050 in", "allbassooncane"},
		{"gouge.centre", "0.030 in", "allbassooncane (end-tapered gouge, at the butt)"},
		{"gouge.centre", "1.2 mm", "Harris 2016, wet"},
		{"gouge.centre", "1.4 mm", "Harris 2016, wet"},
		{"gouge.centre", "1.49 mm", "Médecine des arts: a little under 1.5 mm"},
		{"gouge.centre", "1.15 mm", "memory"},
		{"gouge.centre", "1.35 mm", "memory"},
		{"gouge.side", "0.9 mm", "memory"},
		{"gouge.side", "1.1 mm", "memory"},
		{"gouge.side", "1.3 mm", "memory: concentric, the same as the centre"},
		{"shape.fold", "14 mm", "memory"},
		{"shape.fold", "15 mm", "memory"},
		{"shape.fold", "16.5 mm", "memory"},
		{"score.lines", "5", "lacan p. 2; Stowell p. 17"},
		{"score.lines", "6", "Stowell p. 17"},
		{"score.lines", "7", "lacan p. 2"},
		{"bevel.length", "3/8 in", "bassoonblog, December 2013"},
		{"bevel.length", "17.5 mm", "allbassooncane: from the second wire, bassoonblog 2023 gives its place"},
		{"bevel.length", "30 mm", "Stowell, Bevelling: past the first wire to the blade; tube of up to 30 mm, Brusky"},
		{"mandrel.line", "0 mm", "bassoonblog 2023: to the line"},
		{"fold.to_butt", "2 5/16 in", "bassoonblog, September 2009 and December 2013"},
		{"fold.to_butt", "55 mm", "practice"},
		{"wire.first", "27 mm", "lacan p. 2"},
		{"wire.first", "1 1/16 in", "lacan p. 2"},
		{"wire.first", "1 in", "bassoonblog, December 2013 and 2023"},
		{"wire.first", "25 mm", "memory"},
		{"wire.first", "28 mm", "memory"},
		{"wire.second", "17.5 mm", "worked from bassoonblog 2023"},
		{"wire.second", "19.06 mm", "worked from lacan p. 2 and Brusky"},
		{"wire.third", "3/16 in", "bassoonblog 2023"},
		{"wire.gap", "5/16 in", "Brusky; bassoonblog 2023"},
		{"wire.gap", "7.5 mm", "Brusky, as printed"},
		{"wire.gauge", "22 AWG", "lacan p. 2; student page; allbassooncane"},
		{"wire.gauge", "23 AWG", "allbassooncane, second and third"},
		{"wire.gauge", "21 AWG", "Ellin"},
		{"wire.turns", "2", "bassoonblog, December 2013"},
		{"wire.turns", "3", "bassoonblog, December 2013; Stowell p. 20"},
		{"collar.above_first_wire", "3 mm", "lacan p. 4"},
		{"collar.above_first_wire", "1/8 in", "bassoonblog 2023"},
		{"overall", "55.6 mm", "worked from lacan p. 2 and 4"},
		{"overall", "55 mm", "worked from Schweizer"},
		{"overall", "55.5 mm", "worked from Schweizer"},
		{"overall", "57 mm", "worked from Brusky"},
		{"overall", "60 mm", "worked from Brusky"},
		{"overall", "53 mm", "memory"},
		{"overall", "58 mm", "memory"},
		{"tip.above_first_wire", "28.5 mm", "lacan p. 4"},
		{"tip.above_first_wire", "1 1/8 in", "lacan p. 4"},
		{"blade.length", "25.5 mm", "worked from lacan p. 4"},
		{"blade.length", "28 mm", "Schweizer"},
		{"blade.length", "28.5 mm", "Schweizer"},
		{"blade.length", "30 mm", "Brusky, Measurements"},
		{"blade.length", "1 2/16 in", "Brusky, Glossary"},
		{"blade.length", "1 3/16 in", "Brusky, Glossary"},
		{"blade.length", "30.2 mm", "worked from bassoonblog 2013 and 2023"},
		{"reed.on_bocal", "8 mm", "Schweizer"},
		{"butt.bore", "4.5 mm", "memory"},
		{"butt.bore", "6 mm", "memory"},
		{"tip.width", "13.5 mm", "Wikipedia, Double reed"},
		{"tip.width", "15.9 mm", "Wikipedia, Double reed"},
		{"tip.opening", "1.0 mm", "memory"},
		{"tip.opening", "2.0 mm", "memory"},
		{"tip.thickness", "2 thou", "bassoonreed.blogspot.com"},
		{"tip.thickness", "3 thou", "bassoonreed.blogspot.com"},
		{"tip.thickness", "0.05 mm", "memory"},
		{"tip.thickness", "0.15 mm", "memory"},
		{"tip.thickness", "0.10 mm", "memory"},
		{"blade.thickness", "0.0314 in", "Brusky, in front of the collar"},
		{"blade.thickness", "0.95 mm", "memory, collar"},
		{"blade.thickness", "0.05 mm", "memory, edge of the tip"},
		{"blade.thickness", "0.10 mm", "memory, tip"},
		{"blade.thickness", "0.65 mm", "memory, half blade"},
		{"crow.pitch", "F#4", "Reed Lore: middle F sharp"},
		{"crow.pitch", "A4", "Reed Lore"},
		{"crow.pitch", "E4", "memory"},
		{"crow.pitch", "F4", "memory"},
		{"room.humidity", "35 %", "magicreed; woodwind.org 6494"},
		{"room.humidity", "50 %", "magicreed"},
		{"room.humidity", "45 %", "charlesmusic"},
		{"room.humidity", "15 %", "charlesmusic, winter"},
		{"room.humidity", "70 %", "woodwind.org 25611"},
		{"room.humidity", "20 %", "bassoonoperator, May 2010"},
		{"soak.time", "2 h", "Low-Atwater; Harris; bassoonblog, December 2013"},
		{"soak.time", "8 h", "lacan p. 2"},
		{"soak.time", "24 h", "lacan p. 2; tjbassoon 2011"},
		{"soak.time", "5 min", "Viento Percusión 7"},
		{"soak.time", "4 d", "medpants: up to several days"},
		{"soak.time", "5 min", "uac-m; Viento Percusión 7: at least"},
		{"soak.time", "3 h", "Low-Atwater 2021, before shaping; student page, at least"},
		{"soak.time", "6 h", "medpants, earlier"},
		{"soak.time", "8 h", "everything2, Low-Atwater, bassoonblog 2023: overnight"},
		{"soak.time", "5 h", "fagottwurm; bassoondoctor: several hours"},
		{"soak.time", "3 d", "bassoondoctor: days are fine"},
		{"soak.time", "3 min", "lacan p. 2 and 4: several minutes"},
		{"rest.time", "1 d", "bassoonblog, August 2015"},
		{"rest.time", "2 weeks", "bassoonblog, December 2013"},
		{"rest.time", "1096 d", "bassoonblog, January 2014: blanks of 2011 in 2014"},
		{"rest.time", "14 d", "bassoonblog, December 2013: at least"},
		{"tube.marked_end.narrowest", "23 mm", "Harris 2016"},
		{"tube.marked_end.narrowest", "24 mm", "Low-Atwater 2021; Boldt-Neurohr"},
		{"tube.marked_end.widest", "26 mm", "Low-Atwater 2021"},
		{"tube.marked_end.widest", "27 mm", "Boldt-Neurohr"},
		{"tube.other_end.narrowest", "23 mm", "Harris 2016"},
		{"tube.other_end.narrowest", "24 mm", "Low-Atwater 2021; Boldt-Neurohr"},
		{"tube.other_end.widest", "1 in", "everything2"},
		{"tube.other_end.widest", "27 mm", "Boldt-Neurohr"},
		{"tube.ovality", "2 mm", "worked from Low-Atwater 2021: from 24 to 26 mm"},
		{"tube.taper", "1 mm", "steesbassoon, March 2013: not more from end to end"},
		{"tube.wall", "2 mm", "Boldt-Neurohr"},
		{"tube.wall", "7 mm", "Boldt-Neurohr"},
		{"tube.internode", "5 in", "Boldt-Neurohr"},
		{"tube.internode", "15 in", "Boldt-Neurohr"},
		{"tube.length", "120 mm", "practice: at least the piece"},
		{"tube.length", "15 in", "worked: no longer than Boldt-Neurohr's longest internode"},
		{"tube.age", "365 d", "Low-Atwater 2021: 1 year"},
		{"tube.age", "731 d", "Low-Atwater 2021: 2 years"},
		{"tube.age", "0 d", "kingkristopher: tried green"},
		{"split.pieces", "3", "Low-Atwater 2021; everything2; Stowell p. 15"},
		{"split.pieces", "4", "fagottwurm; schuflo; Harris 2016; tjbassoon 2023"},
		{"quarter.width", "17.7 mm", "worked: 25 mm in four"},
		{"quarter.width", "21.7 mm", "worked: 25 mm in three"},
		{"quarter.arc", "19.6 mm", "worked: 25 mm in four"},
		{"quarter.arc", "26.2 mm", "worked: 25 mm in three"},
		{"soak.cycles", "3", "Stowell p. 16"},
		{"soak.cycles", "4", "Stowell p. 16"},
		{"soak.conditioning", "2 weeks", "tjbassoon 2011"},
		{"gouge.first_end", "1.25 mm", "London Fields, Longitudinal"},
		{"gouge.first_end", "0.030 in", "allbassooncane"},
		{"gouge.first_end", "1.65 mm", "worked from Stowell p. 16 and London Fields, Darmstadt"},
		{"gouge.second_end", "1.25 mm", "London Fields, Longitudinal"},
		{"gouge.second_end", "0.030 in", "allbassooncane"},
		{"gouge.second_end", "1.65 mm", "worked from Stowell p. 16 and London Fields, Darmstadt"},
		{"gouge.inside_taper", "0.25 mm", "London Fields, Darmstadt and Longitudinal"},
		{"gouge.inside_taper", "0.35 mm", "London Fields, Darmstadt"},
		{"gouge.inside_taper", "0 mm", "London Fields, Longitudinal"},
		{"gouge.inside_taper", "-0.020 in", "worked from allbassooncane"},
		{"gouge.eccentricity", "-0.25 mm", "London Fields, Inverted"},
		{"gouge.eccentricity", "0 mm", "memory: concentric"},
		{"gouge.eccentricity", "0.4 mm", "memory: eccentric"},
		{"gouge.channel", "0.15 mm", "Ellin, parts 1 and 2"},
		{"gouge.channel", "0.20 mm", "Ellin, parts 1 and 2"},
		{"gouge.side_at", "7 mm", "worked: half of 14 mm"},
		{"gouge.side_at", "8.25 mm", "worked: half of 16.5 mm"},
		{"paper.grit", "320", "bassoonblog, December 2013"},
		{"paper.grit", "400", "Stowell p. 16; lacan p. 2; medpants"},
		{"paper.grit", "600", "Stowell p. 16"},
		{"paper.grit", "800", "tjbassoon 2011"},
		{"paper.grit", "1000", "tjbassoon 2011"},
		{"hardness.first_end", "19", "IDRS board, low altitude"},
		{"hardness.first_end", "25", "IDRS board, high altitude"},
		{"hardness.first_end", "12", "tester's help page"},
		{"hardness.first_end", "17", "tester's help page"},
		{"hardness.second_end", "19", "IDRS board, low altitude"},
		{"hardness.second_end", "25", "IDRS board, high altitude"},
		{"hardness.second_end", "12", "tester's help page"},
		{"hardness.second_end", "17", "tester's help page"},
		{"hardness.mean", "22", "IDRS board"},
		{"hardness.mean", "23", "IDRS board"},
		{"hardness.mean", "21", "IDRS board"},
		{"hardness.spread", "4", "tester's help page: the limit"},
		{"hardness.spread", "5", "tester's help page: ends of 12 and 17"},
		{"float.depth", "120 mm", "worked: a piece of 120 mm that sinks"},
		{"float.share", "1", "worked: it sinks"},
		{"sink.time", "8 h", "lacan p. 2"},
		{"sink.order", "1", "lacan p. 2: the first to sink"},
		{"profile.collar", "0.0314 in", "Brusky"},
		{"profile.collar", "0.95 mm", "memory"},
		{"profile.collar", "1.00 mm", "worked from Brusky and Stowell p. 17: 0.2 mm left high"},
		{"profile.left_high", "0.2 mm", "Stowell p. 17"},
		{"profiler.pieces", "50", "bassoonblog, August 2015"},
		{"collar.depth", "0.5 mm", "lacan p. 4"},
		{"collar.depth", "1/64 in", "lacan p. 4"},
		{"score.spacing", "1.00 mm", "Stowell p. 17"},
		{"score.length", "13.5 mm", "worked from Stowell p. 17 and lacan p. 2"},
		{"score.length", "27 mm", "lacan p. 2: none past the first wire"},
		{"bevel.strokes", "25", "bassoonblog, December 2013"},
		{"fold.at", "60 mm", "worked: middle of 120 mm"},
		{"mandrel.taper", "0.07", "bassoonoperator, January 2010"},
		{"reed.tube", "27 mm", "Brusky; Schweizer"},
		{"reed.tube", "30 mm", "Brusky"},
		{"reed.tube", "1 1/8 in", "bassoonblog 2023"},
		{"wire.lower_gap", "12.7 mm", "worked from bassoonblog 2023"},
		{"wire.lower_gap", "14.3 mm", "worked from lacan p. 2, Brusky and bassoonblog 2023"},
		{"wire.end", "1/8 in", "lacan p. 2"},
		{"wire.end", "4 mm", "Stowell p. 20"},
		{"cement.time", "8 h", "bassoonblog, December 2017: overnight"},
		{"cement.time", "0 h", "bassoonblog, August 2015: tested at once"},
		{"thread.size", "20", "Stowell p. 20"},
		{"thread.turns", "100", "Stowell p. 20"},
		{"seal.inside", "10 mm", "bassoonoperator, January 2010"},
		{"tip.corner", "0.05 mm", "memory"},
		{"tip.corner", "0.08 mm", "memory"},
		{"crow.with_bocal", "256 Hz", "Reed Lore: at least"},
		{"play.low_f", "F2", "Teaching, p. 169"},
		{"play.high_f", "F4", "Teaching, p. 169"},
		{"play.open_g", "G3", "Teaching, p. 169"},
		{"play.forked_e_flat", "Eb3", "Teaching, p. 169"},
	}
}

// remembered: the range itself is said to be from memory, and nothing else is
// known.
func remembered(d sdk.Dimension) bool {
	for _, s := range d.Sources {
		if s.Grade == sdk.FromMemory && strings.HasPrefix(s.Says, "the range") {
			return true
		}
	}
	return false
}

// A range is there because of a number; where nobody gives one, there is the
// word and the datum and nothing else.
func TestEveryRangeRestsOnANumber(t *testing.T) {
	t.Parallel()
	rows := map[string]int{}
	for _, c := range cited() {
		rows[c.name]++
	}
	unknown := map[string]bool{
		"cane.hollow": true, "cane.mass": true, "shape.butt": true, "wire.fourth": true, "ream.turns": true, "reed.score": true,
	}
	for name, d := range byName(t) {
		switch {
		case unknown[name] && (d.Plausible != "" || rows[name] > 0):
			t.Errorf("%s has numbers now: take it off the list", name)
		case !unknown[name] && d.Plausible == "":
			t.Errorf("%s has no range", name)
		case !unknown[name] && rows[name] == 0 && !remembered(d):
			t.Errorf("no number is given for %s, but the range %s", name, d.Plausible)
		}
	}
}
