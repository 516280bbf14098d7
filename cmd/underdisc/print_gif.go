package main

import (
	"bytes"
	"cmp"
	"image"
	"image/color"
	"image/gif"
	"image/png"
	"io"
	"maps"
	"slices"

	"underdisc/viz/paper"
	"underdisc/viz/scene"
)

// How long a frame of a moving picture stands, and the last one, in hundredths
// of a second.
const (
	frameStands = 5
	lastStands  = 200
)

// writeGIF writes n scenes as one moving picture. Its colours are chosen from
// some of the frames; each frame holds only what differs from the one before,
// and shows through where nothing does.
func writeGIF(w io.Writer, n int, at func(i int) (*scene.Scene, error)) error {
	const looked = 8 // frames that the colours are chosen from
	count := map[color.RGBA]int{}
	for k := range min(looked, n) {
		img, err := frame(k*(n-1)/max(min(looked, n)-1, 1), at)
		if err != nil {
			return err
		}
		for i := 0; i < len(img.Pix); i += 4 {
			count[color.RGBA{img.Pix[i], img.Pix[i+1], img.Pix[i+2], 0xFF}]++
		}
	}
	colours := palette(count, 255)
	clear := uint8(len(colours))
	shown := append(colours[:clear:clear], color.RGBA{})
	nearest := map[color.RGBA]uint8{}
	out := &gif.GIF{}
	var last *image.Paletted
	for i := range n {
		img, err := frame(i, at)
		if err != nil {
			return err
		}
		next := image.NewPaletted(img.Bounds(), shown)
		for j := range next.Pix {
			c := color.RGBA{img.Pix[4*j], img.Pix[4*j+1], img.Pix[4*j+2], 0xFF}
			k, ok := nearest[c]
			if !ok {
				k = uint8(colours.Index(c))
				nearest[c] = k
			}
			next.Pix[j] = k
		}
		part := next
		if last != nil {
			part = changed(last, next, differs(last, next), clear)
		}
		out.Image = append(out.Image, part)
		out.Delay = append(out.Delay, frameStands)
		out.Disposal = append(out.Disposal, gif.DisposalNone)
		last = next
	}
	out.Delay[n-1] = lastStands
	return gif.EncodeAll(w, out)
}

// frame paints the i-th scene.
func frame(i int, at func(i int) (*scene.Scene, error)) (*image.RGBA, error) {
	s, err := at(i)
	if err != nil {
		return nil, err
	}
	var buf bytes.Buffer
	if err := paper.PaintScene(s, &buf, "png", 1); err != nil {
		return nil, err
	}
	img, err := png.Decode(&buf)
	if err != nil {
		return nil, err
	}
	if rgba, ok := img.(*image.RGBA); ok {
		return rgba, nil
	}
	out := image.NewRGBA(img.Bounds())
	for y := out.Rect.Min.Y; y < out.Rect.Max.Y; y++ {
		for x := out.Rect.Min.X; x < out.Rect.Max.X; x++ {
			out.Set(x, y, img.At(x, y))
		}
	}
	return out, nil
}

// differs is the smallest rectangle outside of which two pictures agree; of two
// equal ones a single point.
func differs(a, b *image.Paletted) image.Rectangle {
	r := image.Rectangle{Min: b.Rect.Max, Max: b.Rect.Min}
	for y := b.Rect.Min.Y; y < b.Rect.Max.Y; y++ {
		for x := b.Rect.Min.X; x < b.Rect.Max.X; x++ {
			if i := b.PixOffset(x, y); a.Pix[i] != b.Pix[i] {
				r.Min.X, r.Max.X = min(r.Min.X, x), max(r.Max.X, x+1)
				r.Min.Y, r.Max.Y = min(r.Min.Y, y), max(r.Max.Y, y+1)
			}
		}
	}
	if r.Empty() {
		return image.Rect(b.Rect.Min.X, b.Rect.Min.Y, b.Rect.Min.X+1, b.Rect.Min.Y+1)
	}
	return r
}

// changed is a part of the second of two pictures, clear where it is as the
// first.
func changed(a, b *image.Paletted, part image.Rectangle, clear uint8) *image.Paletted {
	out := image.NewPaletted(part, b.Palette)
	for y := part.Min.Y; y < part.Max.Y; y++ {
		for x := part.Min.X; x < part.Max.X; x++ {
			i, k := b.PixOffset(x, y), out.PixOffset(x, y)
			out.Pix[k] = b.Pix[i]
			if a.Pix[i] == b.Pix[i] {
				out.Pix[k] = clear
			}
		}
	}
	return out
}

// palette chooses at most n colours for a picture of which each colour covers so
// many points: the most frequent half as they are, the rest by the median cut
// (a box of colours is halved at the median of its longest side).
func palette(count map[color.RGBA]int, n int) color.Palette {
	all := slices.SortedFunc(maps.Keys(count), func(a, b color.RGBA) int {
		return cmp.Or(cmp.Compare(count[b], count[a]), cmp.Compare(a.R, b.R), cmp.Compare(a.G, b.G), cmp.Compare(a.B, b.B))
	})
	var out color.Palette
	kept := min(n/2, len(all))
	for _, c := range all[:kept] {
		out = append(out, c)
	}
	for _, box := range boxes(all[kept:], n-kept) {
		out = append(out, mean(box, count))
	}
	return out
}

// boxes divides colours into at most n.
func boxes(all []color.RGBA, n int) [][]color.RGBA {
	if len(all) == 0 {
		return nil
	}
	out := [][]color.RGBA{all}
	for len(out) < n {
		widest, side, most := -1, 0, 0
		for i, box := range out {
			for k := range 3 {
				low, high := 255, 0
				for _, c := range box {
					v := int(channel(c, k))
					low, high = min(low, v), max(high, v)
				}
				if high-low > most {
					widest, side, most = i, k, high-low
				}
			}
		}
		if widest < 0 {
			break // every box is one colour
		}
		box := slices.Clone(out[widest])
		slices.SortStableFunc(box, func(a, b color.RGBA) int { return cmp.Compare(channel(a, side), channel(b, side)) })
		out[widest] = box[:len(box)/2]
		out = append(out, box[len(box)/2:])
	}
	return out
}

func channel(c color.RGBA, k int) uint8 { return [...]uint8{c.R, c.G, c.B}[k] }

// mean is the colour that a box of colours is shown in.
func mean(box []color.RGBA, count map[color.RGBA]int) color.RGBA {
	var r, g, b, n int
	for _, c := range box {
		k := count[c]
		r, g, b, n = r+k*int(c.R), g+k*int(c.G), b+k*int(c.B), n+k
	}
	return color.RGBA{uint8(r / n), uint8(g / n), uint8(b / n), 0xFF}
}
