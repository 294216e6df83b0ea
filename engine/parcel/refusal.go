package parcel

import (
	"fmt"
	"slices"

	"canewright/engine/diagnostic"
)

// Reason is why a file is no pack that can be used. The list is closed; a word
// never changes its meaning.
type Reason string

// The reasons, in the order they are looked for.
const (
	Empty          Reason = "empty"
	TooLarge       Reason = "too-large" // the pack
	NotAPack       Reason = "not-a-pack"
	InFront        Reason = "data-in-front"
	Cut            Reason = "cut"
	Encrypted      Reason = "encrypted"
	Compressed     Reason = "compressed"
	ExtraField     Reason = "extra-field"
	OddField       Reason = "odd-field"
	OddTime        Reason = "odd-time"
	Folder         Reason = "folder"
	Link           Reason = "link"
	UnsafeName     Reason = "unsafe-name"
	ForeignFile    Reason = "foreign-file"
	DoubleName     Reason = "double-name"
	FileTooLarge   Reason = "file-too-large"
	TooMany        Reason = "too-many"
	Damaged        Reason = "damaged" // a checksum does not fit
	Comment        Reason = "comment"
	TwoLists       Reason = "two-lists" // the archive's two lists of its files differ
	Behind         Reason = "data-behind"
	WrongOrder     Reason = "wrong-order"
	NoManifest     Reason = "no-manifest"
	NoRecipe       Reason = "no-recipe"
	BadManifest    Reason = "bad-manifest"
	OtherFormat    Reason = "other-format" // a newer format
	NotListed      Reason = "not-listed"   // manifest and files differ
	WrongSum       Reason = "wrong-sum"    // a SHA-256 does not fit
	NotText        Reason = "not-text"
	Program        Reason = "program" // or an archive, inside
	NotAPicture    Reason = "not-a-picture"
	BadSignature   Reason = "bad-signature"   // cannot be read
	WrongSignature Reason = "wrong-signature" // does not belong to what is here
	NotCanonical   Reason = "not-canonical"
	// OtherHeading: the manifest says something else of the recipe than the
	// recipe does. Found by those who can read a recipe.
	OtherHeading Reason = "other-heading"
)

// Reasons is the closed list.
func Reasons() []Reason {
	return []Reason{Empty, TooLarge, NotAPack, InFront, Cut, Encrypted, Compressed, ExtraField, OddField, OddTime, Folder, Link,
		UnsafeName, ForeignFile, DoubleName, FileTooLarge, TooMany, Damaged, Comment, TwoLists, Behind, WrongOrder, NoManifest, NoRecipe,
		BadManifest, OtherFormat, NotListed, WrongSum, NotText, Program, NotAPicture, BadSignature, WrongSignature, NotCanonical, OtherHeading}
}

// Refusal: the file is no pack that can be used, or the contents cannot be
// packed. Name is the file inside it, "" for the whole.
type Refusal struct {
	Reason Reason
	Name   string
	Detail string
}

func (r *Refusal) Error() string {
	if r.Name == "" {
		return r.Detail
	}
	return diagnostic.Clean(diagnostic.Clip(r.Name)) + ": " + r.Detail
}

// Refuse makes a refusal; the reason must be one of Reasons.
func Refuse(reason Reason, name, format string, a ...any) *Refusal {
	if !slices.Contains(Reasons(), reason) {
		panic("parcel: no such reason: " + string(reason))
	}
	return &Refusal{reason, name, fmt.Sprintf(format, a...)}
}
