package page

import (
	"errors"
	"fmt"
	"syscall/js"
	"unicode/utf8"
)

// Where the page keeps a log: in the browser's own storage, which outlives the
// page and the browser, and belongs to the address the page came from.
const (
	keptName = "underdisc.log.name"
	keptText = "underdisc.log.text"
)

// Keep stores a text in the browser in place of the one before. It has been
// taken when Keep returns.
func (h *Host) Keep(name string, data []byte) error {
	if !utf8.Valid(data) {
		return errors.New("the browser keeps text only, and this is none")
	}
	return h.tried(func(store js.Value) {
		store.Call("setItem", keptText, string(data))
		store.Call("setItem", keptName, name)
	})
}

// Kept is what Keep has stored, in this visit or an earlier one.
func (h *Host) Kept() (name string, data []byte, ok bool) {
	err := h.tried(func(store js.Value) {
		n, t := store.Call("getItem", keptName), store.Call("getItem", keptText)
		if ok = !n.IsNull() && !t.IsNull(); ok {
			name, data = n.String(), []byte(t.String())
		}
	})
	return name, data, ok && err == nil
}

// tried uses the storage, which may be switched off or full.
func (h *Host) tried(use func(store js.Value)) (err error) {
	defer func() {
		if r := recover(); r != nil {
			thrown, is := r.(js.Error)
			if !is {
				panic(r)
			}
			err = fmt.Errorf("the browser does not keep it: %s; save it as a file instead", thrown.Get("message").String())
		}
	}()
	use(h.ours.Call("store")) // an exception comes back from a call only
	return nil
}
