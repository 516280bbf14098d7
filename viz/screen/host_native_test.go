//go:build !js

package screen

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestNativeSavesAndFinds(t *testing.T) {
	var words strings.Builder
	n := &Native{Folder: t.TempDir(), Words: &words}
	require.NoError(t, n.Save("a.yaml", []byte("one")))
	past := time.Now().Add(-time.Hour)
	require.NoError(t, os.Chtimes(filepath.Join(n.Folder, "a.yaml"), past, past))
	require.NoError(t, n.Save("a.yaml", []byte("two")))
	require.NoError(t, n.Save("../b.yaml", []byte("three")), "it stays in the folder")
	found := n.Found()
	require.Len(t, found, 3)
	assert.Equal(t, "a.yaml", found[2], "the oldest comes last")
	data, err := n.Take("a.yaml")
	require.NoError(t, err)
	assert.Equal(t, "one", string(data), "what was there is kept")
	data, err = n.Take("b.yaml")
	require.NoError(t, err)
	assert.Equal(t, "three", string(data))

	n.Twin("shut")
	n.Twin("shut")
	n.Status("Run or hold, key Space")
	assert.Equal(t, "\nshut\n> Run or hold, key Space\n", words.String())
	assert.Error(t, (&Native{Folder: filepath.Join(n.Folder, "none")}).Save("a.yaml", nil))
}
