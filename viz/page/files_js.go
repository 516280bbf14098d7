package page

import (
	"errors"
	"syscall/js"
	"time"
)

// chosen is a file that the person has opened.
type chosen struct {
	name string
	data []byte
}

// Save gives the person a file, as a download.
func (h *Host) Save(name string, data []byte) error {
	if name == "" {
		return errors.New("a file needs a name")
	}
	array := js.Global().Get("Uint8Array").New(len(data))
	js.CopyBytesToJS(array, data)
	blob := js.Global().Get("Blob").New([]any{array}, map[string]any{"type": "application/octet-stream"})
	url := js.Global().Get("URL")
	address := url.Call("createObjectURL", blob)
	link := js.Global().Get("document").Call("createElement", "a")
	link.Set("href", address)
	link.Set("download", name)
	link.Call("click")
	// The download reads the address after click has returned.
	time.AfterFunc(time.Minute, func() { url.Call("revokeObjectURL", address) })
	return nil
}

// Open lets the person choose a file. done is called in a tick, once it has
// been read, and never if none is chosen. The browser allows it only shortly
// after a key or a click.
func (h *Host) Open(done func(name string, data []byte)) {
	h.done = done
	input := js.Global().Get("document").Call("getElementById", "file")
	input.Set("value", "") // the same file may be chosen again
	input.Call("click")
}

// watchFiles reads what is chosen in the page's file input.
func (h *Host) watchFiles(input js.Value) {
	input.Call("addEventListener", "change", js.FuncOf(func(js.Value, []js.Value) any {
		file := input.Get("files").Index(0)
		if !file.Truthy() {
			return nil
		}
		var read, failed js.Func
		release := func() { read.Release(); failed.Release() }
		read = js.FuncOf(func(_ js.Value, args []js.Value) any {
			release()
			array := js.Global().Get("Uint8Array").New(args[0])
			data := make([]byte, array.Get("length").Int())
			js.CopyBytesToGo(data, array)
			select { // a file that nobody has taken yet gives way
			case <-h.chosen:
			default:
			}
			h.chosen <- chosen{file.Get("name").String(), data}
			return nil
		})
		failed = js.FuncOf(func(_ js.Value, args []js.Value) any {
			release()
			h.status.wanted = "The file cannot be read: " + args[0].Get("message").String()
			return nil
		})
		file.Call("arrayBuffer").Call("then", read, failed)
		return nil
	}))
}

// handOver gives a file that has come in to who asked for it.
func (h *Host) handOver() {
	select {
	case c := <-h.chosen:
		if done := h.done; done != nil {
			h.done = nil
			done(c.name, c.data)
		}
	default:
	}
}
