// Package parcel is the pack: one file that carries a recipe, so that it can
// be sent. Pure; it imports the standard library and engine/diagnostic, and
// knows nothing of what a recipe means.
//
// A pack is a zip archive (PKWARE, .ZIP File Format Specification 6.3) written
// in exactly one way: method Store, one fixed time, no extra fields, no
// comments, names of a short list, first manifest.json, then signature if there
// is one, then the rest by name. Nothing in it is compressed, so its bytes
// depend on no compressor and nothing in it grows when it is opened.
//
// Open trusts no size and no name. What it returns gives, written again, the
// same bytes: a file with one byte changed, something in front, behind or
// between, a name twice or one that leads elsewhere is no pack. Whoever refuses
// says why, with a Reason of a closed list. There is no role for a program.
package parcel
