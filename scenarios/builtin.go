package scenarios

import "errors"

// BuiltIn finds what a file includes among the embedded scenarios alone, for
// Parse, where no files are at hand.
func BuiltIn(name string) (file string, data []byte, err error) {
	if isPath(name) {
		return name, nil, errors.New("only built-in scenarios can be included here")
	}
	return openEmbedded(name)
}
