package golden

import (
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"
)

// Check fails the test if a picture differs from the one kept under the path by
// the bound or more where it differs most. With UNDERDISC_GOLDEN=write it keeps
// the picture instead. What was got is left beside the temporary files of the
// test, for looking at.
func Check(t testing.TB, path string, got image.Image, bound float64) {
	t.Helper()
	if os.Getenv("UNDERDISC_GOLDEN") == "write" {
		if err := write(path, got); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := Read(path)
	if err != nil {
		t.Fatalf("no picture to compare with: %v (UNDERDISC_GOLDEN=write keeps the present one)", err)
	}
	if d, box := Compare(got, want); d >= bound {
		out := filepath.Join(os.TempDir(), "underdisc-differs-"+filepath.Base(path))
		t.Errorf("%s: differs by %.4f at %v, want less than %.4f; what was got is in %s (%v)", path, d, box, bound, out, write(out, got))
	} else {
		t.Logf("%s: differs by %.4f at %v", path, d, box)
	}
}

// Read reads a picture that was kept.
func Read(path string) (image.Image, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return png.Decode(f)
}

func write(path string, m image.Image) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	defer f.Close()
	e := png.Encoder{CompressionLevel: png.BestCompression}
	return e.Encode(f, m)
}
