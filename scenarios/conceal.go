package scenarios

import (
	"bytes"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"strings"

	"underdisc/model/fault"
)

// How a hidden fault stands in a file: base64 of a byte that says so, a salt,
// and a sum and a record behind a keystream that the salt decides. It keeps a
// reader of the file from seeing the fault; a program that knows how, this one
// too, gets at it without the code, since it has to run it. The record is padded
// so that its length says nothing either.
const (
	concealed  = 1 // the first byte
	saltBytes  = 8
	sumBytes   = 4
	recordStep = 240 // room for three faults
)

// record is what is hidden, with short keys.
type record struct {
	Faults []recordFault `json:"f"`
	Check  string        `json:"c,omitempty"`
}

type recordFault struct {
	Name     string   `json:"n"`
	Severity *float64 `json:"s,omitempty"` // SI
	Word     string   `json:"w,omitempty"` // in its place
	Part     string   `json:"p,omitempty"`
	At       float64  `json:"t,omitempty"` // s
}

// newSeal is a seal that a code opens; an empty code makes one that none opens.
// Two seals differ, and so do two texts of the same faults.
func newSeal(code string) seal {
	l := seal{salt: make([]byte, saltBytes)}
	_, _ = rand.Read(l.salt) // never fails
	if plainCode(code) != "" {
		l.check = checkOf(l.salt, code)
	}
	return l
}

// conceal makes the text.
func conceal(l seal, faults []fault.Entry) (string, error) {
	if len(faults) == 0 {
		return "", errors.New("found no fault to hide, want one at least")
	}
	salt, r := l.salt, record{Check: l.check}
	for _, e := range faults {
		r.Faults = append(r.Faults, recordFault{e.Name, e.Severity, e.Word, e.Part, e.At})
	}
	data, err := json.Marshal(r)
	if err != nil {
		return "", err
	}
	if over := len(data) % recordStep; over > 0 {
		data = append(data, bytes.Repeat([]byte(" "), recordStep-over)...)
	}
	sum := sha256.Sum256(data)
	hidden := mask(salt, append(sum[:sumBytes:sumBytes], data...))
	return base64.RawURLEncoding.EncodeToString(append(append([]byte{concealed}, salt...), hidden...)), nil
}

var errNotConcealed = errors.New("is not what hides a fault, or is damaged")

// uncover reads the text.
func uncover(text string) ([]fault.Entry, seal, error) {
	data, err := base64.RawURLEncoding.Strict().DecodeString(text)
	if err != nil || len(data) < 1+saltBytes+sumBytes || data[0] != concealed {
		return nil, seal{}, errNotConcealed
	}
	salt := data[1 : 1+saltBytes]
	plain := mask(salt, data[1+saltBytes:])
	sum := sha256.Sum256(plain[sumBytes:])
	if !bytes.Equal(sum[:sumBytes], plain[:sumBytes]) {
		return nil, seal{}, errNotConcealed
	}
	d := json.NewDecoder(bytes.NewReader(plain[sumBytes:]))
	d.DisallowUnknownFields()
	var r record
	if err := d.Decode(&r); err != nil || len(r.Faults) == 0 {
		return nil, seal{}, errNotConcealed
	}
	var faults []fault.Entry
	for _, f := range r.Faults {
		faults = append(faults, fault.Entry{Name: f.Name, Severity: f.Severity, Word: f.Word, Part: f.Part, At: f.At})
	}
	return faults, seal{text: text, faults: len(faults), check: r.Check, salt: salt}, nil
}

// mask adds the keystream to data, or takes it off again.
func mask(salt, data []byte) []byte {
	out := make([]byte, len(data))
	var key [sha256.Size]byte
	for i := range data {
		if k := i % len(key); k == 0 {
			block := binary.BigEndian.AppendUint64([]byte("underdisc keeps this unsaid"), uint64(i))
			key = sha256.Sum256(append(block, salt...))
		}
		out[i] = data[i] ^ key[i%len(key)]
	}
	return out
}

// plainCode is a code without what does not count.
func plainCode(code string) string {
	return strings.ToLower(strings.Join(strings.Fields(code), " "))
}

// checkOf tells a code without holding it.
func checkOf(salt []byte, code string) string {
	sum := sha256.Sum256(append([]byte(plainCode(code)), salt...))
	return hex.EncodeToString(sum[:8])
}
