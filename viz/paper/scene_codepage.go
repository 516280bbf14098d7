package paper

// codePage writes a text in code page 1252, one byte for each letter, as a PDF
// with its fonts embedded wants it. What the page lacks becomes a question
// mark.
func codePage(s string) string {
	out := make([]byte, 0, len(s))
	for _, r := range s {
		switch {
		case r < 0x80, r >= 0xA0 && r <= 0xFF:
			out = append(out, byte(r))
		case beyond[r] != 0:
			out = append(out, beyond[r])
		default:
			out = append(out, '?')
		}
	}
	return string(out)
}

// beyond are those of the page's letters that have another number in Unicode.
var beyond = map[rune]byte{
	'\u20AC': 0x80, '\u2026': 0x85, '\u2018': 0x91, '\u2019': 0x92, '\u201C': 0x93, '\u201D': 0x94,
	'\u2022': 0x95, '\u2013': 0x96, '\u2014': 0x97, '\u2122': 0x99,
}
