// Package folder is an instrument without code: a folder with one file,
// instrument.yaml, in the words recipes are written in. Read takes the file
// from the folder, Load turns it into what the sdk serves, with every finding
// at its place in the file.
//
// The folder comes from a stranger. Links, anything but an ordinary file, and
// files too large are refused; nothing else in the folder is looked at. What
// Load accepts, dimension.Set.Check accepts: the host asks it again.
//
// It imports plugins/sdk and the engine's dimension, formula, quantity, yamldoc
// and diagnostic; only cmd imports it.
package folder
