package parcel

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"
)

// Role is what a file of a pack is for. There is none for a program.
type Role string

const (
	Recipe     Role = "recipe"
	Cases      Role = "cases"
	Origin     Role = "origin" // a recipe this one builds on, or one further back
	Instrument Role = "instrument"
	Picture    Role = "picture"
)

// Names of the files of which there is one.
const (
	RecipeName     = "recipe.yaml"
	CasesName      = "cases.yaml"
	InstrumentName = "instrument/instrument.yaml"
	originFolder   = "origins/"
	pictureFolder  = "pictures/"
	manifestName   = "manifest.json"
	signatureName  = "signature"
)

// Limits. Common mail programs carry some 20 MB (from memory), and base64 makes
// a file a third longer (RFC 2045, section 6.8).
const (
	MaxBytes     = 12 << 20 // a pack
	MaxText      = 2 << 20  // a recipe, cases, an origin, an instrument
	MaxPicture   = 4 << 20
	MaxOrigins   = 16
	MaxPictures  = 24
	maxFiles     = 2 + 3 + MaxOrigins + MaxPictures
	maxManifest  = 64 << 10
	maxSignature = 2 << 10
)

// Where an instrument comes from, as the one who packed had it.
const (
	FromCanewright = "canewright" // it is bundled
	FromPack       = "pack"       // it is in the pack
	FromProgram    = "program"    // it is a program, which no pack carries
)

// Heading is what is packed.
type Heading struct {
	ID             string
	Version        int
	Title          string
	Author         string
	Licence        string
	Instrument     string // "" for a checklist
	Major          int
	Minor          int    // of the dimension set the packer had
	Set            string // its digest, in hexadecimal
	InstrumentFrom string // FromCanewright, FromPack or FromProgram
}

// File is one file of a pack. Its role follows from its name.
type File struct {
	Name string
	Data []byte
}

// Role of the file, "" when its name has none.
func (f File) Role() Role { return roleOf(f.Name) }

// Contents of a pack.
type Contents struct {
	Heading   Heading
	Files     []File     // by name
	Signature *Signature // nil: not signed
}

// File is the file of that name, nil if there is none.
func (c *Contents) File(name string) []byte {
	for _, f := range c.Files {
		if f.Name == name {
			return f.Data
		}
	}
	return nil
}

// Of are the files with a role, by name.
func (c *Contents) Of(role Role) []File {
	var out []File
	for _, f := range c.Files {
		if f.Role() == role {
			out = append(out, f)
		}
	}
	return out
}

// Add puts a file in; Write says what is wrong with it.
func (c *Contents) Add(name string, data []byte) {
	c.Files = append(c.Files, File{name, data})
	slices.SortStableFunc(c.Files, func(a, b File) int { return strings.Compare(a.Name, b.Name) })
}

// OriginName is where an origin's text lies.
func OriginName(sum string) string { return originFolder + sum + ".yaml" }

// PictureName is where a picture lies.
func PictureName(file string) string { return pictureFolder + file }

func sumOf(data []byte) string {
	s := sha256.Sum256(data)
	return hex.EncodeToString(s[:])
}

// check says what is wrong with contents; a pack never has anything wrong with
// it. The signature is looked at by its own.
func (c *Contents) check() error {
	counts := map[Role]int{}
	for i, f := range c.Files {
		if err := checkName(f.Name); err != nil {
			return err
		}
		role := f.Role()
		if role == "" {
			return Refuse(ForeignFile, f.Name, "a pack holds no such file")
		}
		if i > 0 && c.Files[i-1].Name >= f.Name {
			if c.Files[i-1].Name == f.Name {
				return Refuse(DoubleName, f.Name, "it is in the pack twice")
			}
			return Refuse(WrongOrder, f.Name, "files stand in the order of their names")
		}
		counts[role]++
		if err := checkData(role, f); err != nil {
			return err
		}
	}
	switch {
	case counts[Recipe] == 0:
		return Refuse(NoRecipe, "", "there is no %s in it", RecipeName)
	case counts[Origin] > MaxOrigins:
		return Refuse(TooMany, "", "it holds %d origins, at most %d are read", counts[Origin], MaxOrigins)
	case counts[Picture] > MaxPictures:
		return Refuse(TooMany, "", "it holds %d pictures, at most %d are read", counts[Picture], MaxPictures)
	}
	return c.Heading.check(counts[Instrument] > 0)
}

func checkData(role Role, f File) error {
	limit := MaxText
	if role == Picture {
		limit = MaxPicture
	}
	if len(f.Data) > limit {
		return Refuse(FileTooLarge, f.Name, "it has more than %d KiB", limit>>10)
	}
	if role == Picture {
		return checkPicture(f)
	}
	if err := checkText(f); err != nil {
		return err
	}
	if role == Origin && OriginName(sumOf(f.Data)) != f.Name {
		return Refuse(WrongSum, f.Name, "its name is not the SHA-256 of its text")
	}
	return nil
}
