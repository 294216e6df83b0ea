package proto

//go:generate ./generate.sh

// Wire is the number that rises when the bytes of dimset/v1 break.
const Wire = 1

// A program that finds the cookie in its environment was started as a plugin.
// It guards against running a plugin by hand; it is no secret.
const (
	CookieKey   = "CANEWRIGHT_PLUGIN"
	CookieValue = "dimension-sets"
)

// Service is the name the dimension sets are served under.
const Service = "dimension sets"

// LargestAnswer is the most bytes one answer may have.
const LargestAnswer = 4 << 20

// ServeArg is the first argument of the one binary when it is started as one or
// several of its own bundled instruments; their names follow.
const ServeArg = "serve-instrument"

// ServeFolderArg is its first argument when it is started as an instrument
// that is a folder without code; the folder follows, or several.
const ServeFolderArg = "serve-folder"
