// Package dimension holds dimension sets: all named quantities of one
// instrument's reed and cane, with where each is measured from, in which
// condition, with what words too much and too little are said, a plausible
// range, and where the numbers come from.
//
// A Set is plain data that can be stored with a batch (JSON) and read back
// when the plugin that served it is gone.
package dimension
