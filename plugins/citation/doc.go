// Package citation tests a dimension set against the numbers its sources give:
// each lies inside the plausible range, each range rests on one, and everything
// says where it comes from. A plugin's own test lists the numbers.
package citation
