package parcel

import "bytes"

// Write makes the pack; the same contents give the same bytes. An error is a
// *Refusal.
func Write(c *Contents) ([]byte, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	manifest := c.manifest()
	all := []entry{{name: manifestName, data: manifest}}
	if len(manifest) > maxManifest {
		return nil, Refuse(FileTooLarge, manifestName, "it has more than %d KiB", maxManifest>>10)
	}
	if c.Signature != nil {
		if err := c.Signature.check(manifest); err != nil {
			return nil, err
		}
		all = append(all, entry{name: signatureName, data: c.Signature.encode()})
	}
	total := 0
	for _, f := range c.Files {
		if total += len(f.Data); total > MaxBytes {
			break
		}
		all = append(all, entry{name: f.Name, data: f.Data})
	}
	if total <= MaxBytes {
		if data := archive(all); len(data) <= MaxBytes {
			return data, nil
		}
	}
	return nil, Refuse(TooLarge, "", "it would have more than %d MiB", MaxBytes>>20)
}

// Open reads a pack and verifies all of it: nothing of it is used before. The
// contents lie in data, which must not change. An error is a *Refusal.
func Open(data []byte) (*Contents, error) {
	all, err := unarchive(data)
	if err != nil {
		return nil, err
	}
	if all[0].name != manifestName {
		return nil, Refuse(NoManifest, "", "it does not begin with its %s", manifestName)
	}
	manifest, rest := all[0].data, all[1:]
	c := &Contents{}
	var list []listed
	if c.Heading, list, err = decodeManifest(manifest); err != nil {
		return nil, err
	}
	if len(rest) > 0 && rest[0].name == signatureName {
		if c.Signature, err = decodeSignature(rest[0].data); err != nil {
			return nil, err
		}
		rest = rest[1:]
	}
	if err := c.take(rest, list); err != nil {
		return nil, err
	}
	if err := c.check(); err != nil {
		return nil, err
	}
	if !bytes.Equal(c.manifest(), manifest) {
		return nil, Refuse(BadManifest, manifestName, "it is not written as canewright writes it")
	}
	if c.Signature != nil {
		if err := c.Signature.check(manifest); err != nil {
			return nil, err
		}
	}
	again, err := Write(c)
	if err != nil {
		return nil, err
	}
	if !bytes.Equal(again, data) {
		return nil, Refuse(NotCanonical, "", "it is not written as canewright writes it")
	}
	return c, nil
}

// take is the files that are there, which must be those that are listed.
func (c *Contents) take(rest []entry, list []listed) error {
	for i, e := range rest {
		if e.name == signatureName || i > 0 && rest[i-1].name > e.name {
			return Refuse(WrongOrder, e.name, "it does not stand where a pack has it")
		}
	}
	for i, e := range rest {
		switch {
		case i >= len(list) || list[i].Name != e.name:
			return Refuse(NotListed, e.name, "the manifest does not list it here")
		case list[i].Role != roleOf(e.name):
			return Refuse(NotListed, e.name, "the manifest gives it another role")
		case list[i].Size != len(e.data):
			return Refuse(NotListed, e.name, "the manifest gives it another size")
		case list[i].SHA256 != sumOf(e.data):
			return Refuse(WrongSum, e.name, "its SHA-256 is not the one of the manifest")
		}
		c.Files = append(c.Files, File{e.name, e.data})
	}
	if len(list) > len(rest) {
		return Refuse(NotListed, list[len(rest)].Name, "the manifest lists it, and it is not there")
	}
	return nil
}
