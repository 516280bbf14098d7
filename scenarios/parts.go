package scenarios

import (
	"reflect"
	"slices"
	"strings"

	"underdisc/model/plant"
)

// readPlant reads the parts, and holds the plant against its own rules.
func (s *Scenario) readPlant(root *node) error {
	n, err := root.need("", "plant", "the parts of the plant, or a base that has them (include)")
	if err != nil {
		return err
	}
	if n.kind != mapping || len(n.keys) == 0 {
		return n.at.wrong("plant", n.describe(), "parts, each a name with its keys")
	}
	s.Plant = &plant.Plant{}
	for _, name := range n.keys {
		part, err := readPart(name, n.entry[name])
		if err != nil {
			return err
		}
		s.Plant.Parts = append(s.Plant.Parts, part)
	}
	if issues := s.Plant.Check(); len(issues) > 0 {
		i := issues[0]
		return n.locate(i.Path).wrong(i.Path, i.Found, i.Want)
	}
	return nil
}

// readPart reads one part.
func readPart(name string, n *node) (plant.Part, error) {
	if !isWord(name) {
		return plant.Part{}, n.start().wrong(name, quote(name), "lower-case words joined by hyphens, such as north-valve")
	}
	if n.kind != mapping {
		return plant.Part{}, n.at.wrong(name, n.describe(), "the keys of a part, kind first")
	}
	kinds := plant.Kinds()
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = k.Name
	}
	word, err := n.needWord(name, "kind", names)
	if err != nil {
		return plant.Part{}, err
	}
	k := kinds[slices.Index(names, word)]
	spec := k.New()
	v := reflect.ValueOf(spec).Elem()
	err = readBlock(name, n, plant.FieldsOf(v.Type()), v, "kind")
	return plant.Part{Name: name, Kind: k.Name, Spec: spec}, err
}

// readBlock fills a structure from the keys of a group; every field must be
// there but the blocks that a plant may lack.
func readBlock(path string, n *node, fields []plant.Field, v reflect.Value, also ...string) error {
	keys := also
	for _, f := range fields {
		keys = append(keys, f.Key)
	}
	if err := n.needMapping(path, keys); err != nil {
		return err
	}
	for _, f := range fields {
		if err := readField(path, n, f, v.FieldByIndex(f.Index)); err != nil {
			return err
		}
	}
	return nil
}

func readField(path string, n *node, f plant.Field, v reflect.Value) error {
	at := join(path, f.Key)
	if f.Block == nil {
		prm := f.Param(at)
		child, err := n.needScalar(path, f.Key, wantOf(prm))
		if err != nil {
			return err
		}
		val, err := child.value(at, prm)
		if err != nil {
			return err
		}
		if prm.Numeric() {
			v.SetFloat(val.Number)
		} else {
			v.SetString(val.Word)
		}
		return nil
	}
	if f.Optional {
		child, ok := n.entry[f.Key]
		if !ok || child.kind == null {
			return nil // the plant lacks it, or the file takes it away from its base
		}
		v.Set(reflect.New(v.Type().Elem()))
		v = v.Elem()
	}
	keys := make([]string, len(f.Block))
	for i, g := range f.Block {
		keys[i] = g.Key
	}
	child, err := n.need(path, f.Key, "a group of keys: "+strings.Join(keys, ", "))
	if err != nil {
		return err
	}
	return readBlock(at, child, f.Block, v)
}

// locate finds where to mend the value at a path of the plant: where it was
// written, if the outermost file that touches the part wrote it, and else the
// innermost group that this file touches. What contradicts a base is then
// reported in the file that builds on it.
func (n *node) locate(path string) place {
	at := n.start()
	for depth, key := range strings.Split(path, ".") {
		child, ok := n.entry[key]
		if !ok {
			break
		}
		n = child
		here := n.at
		if n.kind == mapping {
			here = n.start()
		}
		if depth == 0 || here.file == at.file {
			at = here
		}
	}
	return at
}
