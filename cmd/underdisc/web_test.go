//go:build !release

package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// aWorkshop is one for a small program with sources of its own.
func aWorkshop(t *testing.T) *workshop {
	t.Helper()
	w := &workshop{dir: t.TempDir(), pkg: browserPackage, quality: 1}
	for name, text := range map[string]string{
		"go.mod":                      "module underdisc\n\ngo 1.26\n",
		"cmd/underdisc-web/main.go":   "//go:build js\n\npackage main\n\nfunc main() { println(\"shut\") }\n",
		"scenarios/bench.yaml":        "name: bench\n",
		"viz/scene/scene.go":          "package scene\n",
		"viz/scene/scene_test.go":     "package scene\n",
		"viz/scene/testdata/gold.txt": "gold\n",
		"cmd/underdisc/main.go":       "package main\n",
		"README.md":                   "about\n",
		".git/HEAD":                   "main\n",
	} {
		write(t, w, name, text)
	}
	require.NoError(t, w.useGo(t.Context()))
	return w
}

func write(t *testing.T, w *workshop, name, text string) {
	t.Helper()
	path := filepath.Join(w.dir, filepath.FromSlash(name))
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
}

// quiet takes what is said of the progress, and drops it.
func quiet() *webProgress { return &webProgress{w: io.Discard} }

func keyOf(t *testing.T, w *workshop) string {
	t.Helper()
	key, err := w.key()
	require.NoError(t, err)
	return key
}

// names lists a folder.
func names(t *testing.T, folder string) (out []string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

func TestWebKey(t *testing.T) {
	w := aWorkshop(t)
	first := keyOf(t, w)
	assert.Equal(t, first, keyOf(t, w))
	for _, c := range []struct {
		file    string
		matters bool
	}{
		{"viz/scene/scene.go", true}, {"viz/scene/new.kage", true}, {"scenarios/bench.yaml", true}, {"go.mod", true}, {"go.sum", true},
		{"cmd/underdisc-web/main.go", true}, {"sim/run.go", true}, {"model/plant/plant.go", true},
		{"viz/scene/scene_test.go", false}, {"viz/scene/testdata/gold.txt", false}, {"cmd/underdisc/main.go", false}, {"README.md", false},
		{".git/HEAD", false}, {"cover.out", false}, {"underdisc-out/trace.csv", false},
	} {
		before := keyOf(t, w)
		write(t, w, c.file, "module underdisc\n// "+c.file)
		assert.Equal(t, c.matters, before != keyOf(t, w), c.file)
	}
	before := keyOf(t, w)
	other := *w
	other.version = "go1.99"
	assert.NotEqual(t, before, keyOf(t, &other), "another Go makes another program")
	other = *w
	other.quality++
	assert.NotEqual(t, before, keyOf(t, &other), "a release is compressed better")
	// A text that moves from one file to another is another program.
	write(t, w, "viz/scene/a.go", "package scene")
	with := keyOf(t, w)
	require.NoError(t, os.Rename(filepath.Join(w.dir, "viz/scene/a.go"), filepath.Join(w.dir, "viz/scene/b.go")))
	assert.NotEqual(t, with, keyOf(t, w))
}

func TestWebCache(t *testing.T) {
	w, cache := aWorkshop(t), t.TempDir()
	var said bytes.Buffer
	first, err := w.cached(t.Context(), cache, &webProgress{w: &said})
	require.NoError(t, err)
	assert.Contains(t, said.String(), "on first use")
	assert.Equal(t, []string{keyOf(t, w)}, names(t, cache))
	plain, err := first.plain()
	require.NoError(t, err)
	assert.Len(t, plain, first.info.Unpacked)
	assert.True(t, bytes.HasPrefix(plain, []byte("\x00asm")))
	assert.Contains(t, string(first.glue), "importObject")

	// Found again, without a word and without the compiler.
	said.Reset()
	second, err := w.cached(t.Context(), cache, &webProgress{w: &said})
	require.NoError(t, err)
	assert.Empty(t, said.String())
	assert.Equal(t, first, second)

	// A damaged one is made again.
	for _, damage := range []func(path string) error{
		func(path string) error { return os.Truncate(filepath.Join(path, brotliFile), 100) },
		func(path string) error { return os.Remove(filepath.Join(path, glueFile)) },
		func(path string) error { return os.WriteFile(filepath.Join(path, infoFile), []byte("{"), 0o644) },
		func(path string) error { return os.Truncate(filepath.Join(path, gzipFile), 0) },
	} {
		require.NoError(t, damage(filepath.Join(cache, keyOf(t, w))))
		again, err := w.cached(t.Context(), cache, quiet())
		require.NoError(t, err)
		assert.Equal(t, first, again)
		assert.Equal(t, []string{keyOf(t, w)}, names(t, cache))
	}
}

func TestWebCacheTidies(t *testing.T) {
	w, cache := aWorkshop(t), t.TempDir()
	long := time.Now().Add(-24 * time.Hour)
	for i, name := range []string{"a", "b", "c", "d", "e", makingPrefix + "killed", makingPrefix + "now"} {
		path := filepath.Join(cache, name)
		require.NoError(t, os.Mkdir(path, 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(path, brotliFile), []byte("x"), 0o644))
		if name != makingPrefix+"now" {
			at := long.Add(time.Duration(i) * time.Minute)
			require.NoError(t, os.Chtimes(path, at, at))
		}
	}
	_, err := w.cached(t.Context(), cache, quiet())
	require.NoError(t, err)
	assert.ElementsMatch(t, []string{"c", "d", "e", makingPrefix + "now", keyOf(t, w)}, names(t, cache))
}

// Many starts at once: each gets a whole build, one is kept.
func TestWebCacheParallel(t *testing.T) {
	w, cache := aWorkshop(t), t.TempDir()
	builds := make([]*browserBuild, 5)
	errs := make([]error, len(builds))
	var all sync.WaitGroup
	for i := range builds {
		all.Go(func() { builds[i], errs[i] = w.cached(t.Context(), cache, quiet()) })
	}
	all.Wait()
	for i := range builds {
		require.NoError(t, errs[i])
		assert.Equal(t, builds[0], builds[i])
	}
	assert.Equal(t, []string{keyOf(t, w)}, names(t, cache))
}

// toBeKilled names, in the environment of a process that is to be killed, the
// sources and the cache that it works on.
const toBeKilled = "UNDERDISC_TEST_KILLED_BUILD"

func TestWebCacheKilled(t *testing.T) {
	if where := os.Getenv(toBeKilled); where != "" {
		dir, cache, _ := strings.Cut(where, "|")
		w := &workshop{dir: dir, pkg: browserPackage, quality: 1}
		require.NoError(t, w.useGo(t.Context()))
		_, err := w.cached(t.Context(), cache, quiet())
		require.NoError(t, err)
		return
	}
	w, cache := aWorkshop(t), t.TempDir()
	self, err := os.Executable()
	require.NoError(t, err)
	begun := 0 // how many were killed while they built
	for i := range 12 {
		cmd := exec.Command(self, "-test.run", "^TestWebCacheKilled$")
		cmd.Env = append(os.Environ(), toBeKilled+"="+w.dir+"|"+cache)
		require.NoError(t, cmd.Start())
		time.Sleep(time.Duration(40*(i+1)) * time.Millisecond)
		require.NoError(t, cmd.Process.Kill())
		_ = cmd.Wait() // it has been killed
		for _, name := range names(t, cache) {
			if strings.HasPrefix(name, makingPrefix) {
				begun++
				require.NoError(t, os.RemoveAll(filepath.Join(cache, name)))
				continue
			}
			_, err := readBuild(os.DirFS(filepath.Join(cache, name)))
			assert.NoError(t, err, "what can be found is whole")
			require.NoError(t, os.RemoveAll(filepath.Join(cache, name)))
		}
	}
	assert.NotZero(t, begun, "none was killed at work: the times are wrong for this machine")
	_, err = w.cached(t.Context(), cache, quiet())
	assert.NoError(t, err)
}

func TestWebBroken(t *testing.T) {
	w, cache := aWorkshop(t), t.TempDir()
	ctx, cancel := context.WithCancel(t.Context())
	time.AfterFunc(30*time.Millisecond, cancel)
	_, err := w.cached(ctx, cache, quiet())
	assert.ErrorIs(t, err, errInterrupted)
	assert.Empty(t, names(t, cache), "an interrupted build leaves nothing")

	write(t, w, "cmd/underdisc-web/main.go", "//go:build js\n\npackage main\n\nfunc main() { lift() }\n")
	_, err = w.cached(t.Context(), cache, quiet())
	require.Error(t, err)
	isOneLine(t, "underdisc: "+oneLine(err.Error())+"\n")
	assert.Contains(t, err.Error(), "undefined: lift")
	assert.Contains(t, err.Error(), "right would be")
	assert.Empty(t, names(t, cache))

	t.Setenv("PATH", "")
	_, err = newWorkshop(t.Context())
	assert.ErrorContains(t, err, "found none on the PATH; right would be Go 1.26 or later")
}

func TestWebSources(t *testing.T) {
	root, err := sources(t.Context())
	require.NoError(t, err)
	want, err := filepath.Abs("../..")
	require.NoError(t, err)
	assert.Equal(t, want, root)
	assert.False(t, isOurs(t.TempDir()))
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "go.mod"), []byte("module underdisc\n"), 0o644))
	assert.False(t, isOurs(dir), "another of the same name, without the program")
}

// The bar moves with the packages, and is gone at the end.
func TestWebProgress(t *testing.T) {
	var w bytes.Buffer
	p := &webProgress{w: &w, terminal: true}
	p.compiling(100)
	p.bar.began = p.bar.began.Add(-time.Minute)
	for range 150 { // more than there were said to be
		p.compiled()
	}
	time.Sleep(150 * time.Millisecond) // it is drawn ten times a second at most
	p.at = 49
	p.compiled()
	assert.Contains(t, w.String(), "40%")
	time.Sleep(150 * time.Millisecond)
	assert.NotContains(t, w.String(), "90%")
	p.packing()
	assert.Contains(t, w.String(), "90%")
	p.clear()
}
