package paper

import (
	"bytes"
	"io"
	"regexp"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgpdf"

	"underdisc/viz/scene"
)

func scenePDF(s *scene.Scene, w io.Writer, scale float64) error {
	c := vgpdf.New(vg.Length(s.Size.X*scale), vg.Length(s.Size.Y*scale))
	paintScene(s, c, scale, forPDF)
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return err
	}
	_, err := w.Write(stamp.ReplaceAll(b.Bytes(), []byte("D:20000101000000")))
	return err
}

// stamp is the moment of writing, which would make no two files alike.
var stamp = regexp.MustCompile(`D:\d{14}`)

// forPDF are fonts as the PDF canvas wants them. It registers every face under
// its name alone, but asks for one called bold under its name and a style, which
// it then does not find: so bold faces go by another weight's name.
var forPDF = fonts{encode: codePage, face: func(size float64, bold bool) font.Face {
	f := Font{Size: size, Bold: bold}.face()
	if bold {
		f.Font.Weight = xfont.WeightSemiBold
	}
	return f
}}
