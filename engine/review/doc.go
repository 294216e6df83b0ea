// Package review says what was really done in a batch that somebody else
// exported: what became of the pieces, the largest deviations, what was left
// out, cut short, let stand, corrected and acknowledged. It is for a teacher who
// has the file and not the pupil's logbook. It judges reeds and readings, never
// a person, and writes nothing anywhere.
//
// A file is a stranger's: Read bounds it, refuses what is damaged with the
// number of the line, and Of refuses events that the recipe in the file cannot
// have led to.
package review
