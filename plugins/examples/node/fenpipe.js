// The fen pipe: an invented instrument with an invented reed.
"use strict";

// Numbers travel as whole quanta, so that nobody's rounding is in them: of a
// length nanometres, of a pitch millionths of a cent from A4. dimset.proto has
// the list. Both fit a JavaScript number exactly, which holds whole numbers
// below 2^53.
const mm = (x) => Math.round(x * 1e6);
const cents = (x) => Math.round(x * 1e6);

// A range has its limits in quanta and the text a person would write. Leave a
// limit out and that side is open; a limit of 0 is a limit like any other.
function lengths(low, high) {
  return { text: `${low} .. ${high} mm`, unit: "mm", step: mm(0.1), low: mm(low), high: mm(high) };
}

// Every number says where it comes from: "GRADE_PUBLISHED" with who says so,
// "GRADE_COMMON_PRACTICE", or "GRADE_FROM_MEMORY". These are invented.
const invented = [{ says: "invented, as the instrument is", grade: "GRADE_FROM_MEMORY" }];

module.exports = {
  id: "fenpipe", // recipes say "instrument: fenpipe 1"
  title: "fen pipe, invented",
  // A name means the same for as long as major stays; minor rises when
  // something is added.
  major: 1,
  minor: 0,
  about: "An example: neither the pipe nor its reed exists.",
  dimensions: [
    {
      name: "cane.length",
      title: "cane length",
      aliases: ["strip length"],
      kind: "length",
      unit: "mm", // of a number typed without one
      subject: "piece", // what is measured: tube, piece, staple or batch
      datum: "the butt", // a length is counted from somewhere …
      condition: "CONDITION_DRY",
      how: "ruler along the bark, from end to end",
      tool: "ruler",
      more: "long", // the words for too much and too little
      less: "short",
      plausible: lengths(40, 90), // beyond it the player is asked once
      sources: invented,
    },
    {
      name: "gouge.centre",
      title: "gouge, centre",
      kind: "length",
      unit: "mm",
      subject: "piece",
      across: true, // … and a thickness from nowhere
      condition: "CONDITION_EITHER",
      how: "on the spine, halfway along",
      tool: "dial indicator",
      more: "thick",
      less: "thin",
      plausible: lengths(0.4, 1.2),
      sources: invented,
    },
    {
      name: "tie.length",
      title: "tie length",
      kind: "length",
      unit: "mm",
      subject: "piece",
      datum: "the butt",
      condition: "CONDITION_EITHER",
      how: "ruler from the butt to the tip, after tying",
      tool: "ruler",
      more: "long",
      less: "short",
      plausible: lengths(20, 60),
      sources: invented,
    },
    {
      name: "crow.pitch",
      title: "crow",
      kind: "pitch", // a pitch has no unit: players write C5, or C5 - 10 cents
      subject: "piece",
      condition: "CONDITION_WET",
      how: "blown alone, lips on the thread",
      tool: "tuner",
      more: "sharp",
      less: "flat",
      // G4 and D5: two semitones of 100 cents below A4, and five above.
      plausible: { text: "G4 .. D5", step: cents(1), low: cents(-200), high: cents(500) },
      sources: invented,
    },
    {
      name: "cane.spare",
      title: "cane beyond two blades",
      kind: "length",
      unit: "mm",
      subject: "piece",
      condition: "CONDITION_EITHER",
      more: "long",
      less: "short",
      // Worked out from the others, never typed; nobody says how it is read.
      formula: "cane.length - 2 * tie.length",
      sources: [{ says: "two blades are cut from one strip", grade: "GRADE_WORKED_OUT" }],
    },
  ],
};
