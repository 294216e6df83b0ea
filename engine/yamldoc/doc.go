// Package yamldoc reads the YAML files players and authors write, strictly:
// every text comes through as it was written and knows its place, no value is
// guessed to be a number, a date or a yes, and whatever YAML would swallow or
// turn into something else is refused with a hint.
//
// Refused are anchors, aliases, tags, merges, directives, second documents,
// duplicate keys, control and hidden characters, and files too large, too deep
// or with too many values.
//
// It is the only importer of yaml.v3; besides that it imports diagnostic and
// the standard library.
package yamldoc
