package parcel

import (
	"regexp"
	"strings"
)

const longestName = 100

var (
	originForm  = regexp.MustCompile(`^origins/[0-9a-f]{64}\.yaml$`)
	pictureForm = regexp.MustCompile(`^pictures/[a-z0-9][a-z0-9_-]{0,59}\.(png|jpg)$`)
)

// roleOf is the role a name has; whatever is not on this list has none.
func roleOf(name string) Role {
	switch {
	case name == RecipeName:
		return Recipe
	case name == CasesName:
		return Cases
	case name == InstrumentName:
		return Instrument
	case originForm.MatchString(name):
		return Origin
	case pictureForm.MatchString(name):
		return Picture
	}
	return ""
}

// checkName refuses the tricks a name can play, each with its own words. What
// passes may still have no role.
func checkName(name string) error {
	bad := func(why string) error { return Refuse(UnsafeName, name, "%s", why) }
	switch {
	case name == "":
		return bad("a file without a name")
	case len(name) > longestName:
		return bad("its name is too long")
	case strings.ContainsFunc(name, func(r rune) bool { return r < 0x20 || r >= 0x7f }):
		return bad("its name holds control characters, or letters that are not plain")
	case strings.Contains(name, `\`):
		return bad(`its name holds a \`)
	case strings.Contains(name, ":"):
		return bad("its name holds a colon, as a drive or a stream does")
	case strings.HasPrefix(name, "/"):
		return bad("its name begins at the root of the disk")
	}
	if strings.HasSuffix(name, "/") && name != "/" {
		return Refuse(Folder, name, "this is a folder; a pack holds files alone")
	}
	for _, part := range strings.Split(name, "/") {
		switch {
		case part == "..":
			return bad("its name leads out of the pack")
		case part == "." || part == "":
			return bad("its name has an empty step in it")
		case strings.HasSuffix(part, ".") || strings.HasSuffix(part, " ") || strings.HasPrefix(part, " "):
			return bad("its name ends in a dot or a blank, which some systems drop")
		case device(part):
			return bad("its name is that of a device on some systems")
		}
	}
	return nil
}

// device reports the names that Windows keeps for devices, whatever follows
// the first dot (Microsoft, Naming Files, Paths, and Namespaces).
func device(part string) bool {
	part, _, _ = strings.Cut(strings.ToLower(part), ".")
	switch part {
	case "con", "prn", "aux", "nul", "conin$", "conout$":
		return true
	}
	if len(part) == 4 && (strings.HasPrefix(part, "com") || strings.HasPrefix(part, "lpt")) {
		return part[3] >= '0' && part[3] <= '9'
	}
	return false
}
