//go:build !release

package main

import (
	"bufio"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A release program has the picture within itself: it serves it with neither Go
// nor sources nor a home folder, and ends well when it is interrupted.
func TestRelease(t *testing.T) {
	if testing.Short() {
		t.Skip("it builds the whole program")
	}
	if runtime.GOOS == "windows" {
		t.Skip("an interruption cannot be sent to another process there")
	}
	w, err := newWorkshop(t.Context())
	require.NoError(t, err)
	b := aBuild(t)
	overlay, err := b.overlay(t.TempDir(), filepath.Join(w.dir, "cmd", "underdisc", "web"))
	require.NoError(t, err)
	out := t.TempDir()
	name, err := w.releaseFor(t.Context(), runtime.GOOS+"/"+runtime.GOARCH, overlay, out)
	require.NoError(t, err)
	assert.Equal(t, []string{name}, names(t, out), "and nothing half made beside it")

	status, _, _ := call(t, t.Context(), "release")
	assert.Equal(t, exitBadInput, status, "it needs a folder")
	cmd := exec.Command(filepath.Join(out, name), "release", "--out", "x")
	cmd.Env = []string{"PATH="}
	assert.Error(t, cmd.Run(), "a release makes no releases")

	cmd = exec.Command(filepath.Join(out, name), "serve", "--listen", "127.0.0.1:0")
	cmd.Env = []string{"PATH="}
	cmd.Dir = t.TempDir()
	said, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	defer cmd.Process.Kill()
	line, err := bufio.NewReader(said).ReadString('\n')
	require.NoError(t, err)
	address := regexp.MustCompile(`http://[^ ]+`).FindString(line)
	require.NotEmpty(t, address, line)
	r, err := http.Get(address + "underdisc.wasm")
	require.NoError(t, err)
	defer r.Body.Close()
	got, err := io.ReadAll(r.Body) // the client asks for gzip and unpacks by itself
	require.NoError(t, err)
	assert.Equal(t, code, got)
	require.NoError(t, cmd.Process.Signal(os.Interrupt))
	assert.NoError(t, cmd.Wait(), "an interruption is how serving ends")
}

// An interruption while the picture is being built ends as any other does, and
// leaves nothing.
func TestBuildInterrupted(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("the folder of the cache is another elsewhere")
	}
	gocache, err := exec.Command("go", "env", "-json", "GOCACHE", "GOMODCACHE").Output()
	require.NoError(t, err)
	var goEnv map[string]string
	require.NoError(t, json.Unmarshal(gocache, &goEnv))
	self, err := os.Executable()
	require.NoError(t, err)
	cache := t.TempDir()
	cmd := exec.Command(self, "serve", "--listen", "127.0.0.1:0")
	cmd.Env = append(os.Environ(), mainVariable+"=1", "XDG_CACHE_HOME="+cache, "GOCACHE="+goEnv["GOCACHE"], "GOMODCACHE="+goEnv["GOMODCACHE"])
	errs, err := cmd.StderrPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	defer cmd.Process.Kill()
	lines := bufio.NewReader(errs)
	line, err := lines.ReadString('\n')
	require.NoError(t, err)
	require.Contains(t, line, "Building the picture")
	time.Sleep(100 * time.Millisecond)
	require.NoError(t, cmd.Process.Signal(os.Interrupt))
	rest, err := io.ReadAll(lines)
	require.NoError(t, err)
	isOneLine(t, string(rest))
	err = cmd.Wait()
	var exit *exec.ExitError
	require.ErrorAs(t, err, &exit)
	assert.Equal(t, exitInterrupted, exit.ExitCode())
	assert.Empty(t, names(t, filepath.Join(cache, "underdisc", "browser")))
}
