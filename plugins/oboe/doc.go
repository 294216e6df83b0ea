// Package oboe is the dimension set of the oboe: what is measured on its cane,
// its staples and its reeds, of the long scrape and the short one, from where,
// in which condition, with what words, and where each number comes from; and
// what helps against what is heard.
//
// It imports plugins/sdk only. plugins/oboe/main serves it as a program of its
// own; canewright serves it from its one binary.
//
// A plausible range holds every value a source gives, from both sides where
// schools disagree, and room around it: beyond it a reading is asked about
// once, and it is never a limit. Where nobody gives a number there is the word
// and the datum and nothing else.
package oboe
