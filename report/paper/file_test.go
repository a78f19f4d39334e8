package paper

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// files lists a folder.
func files(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func TestWriteFileWhole(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.csv")
	require.NoError(t, WriteFileWhole(path, []byte("one")))
	require.NoError(t, os.Chmod(path, 0o600))
	require.NoError(t, WriteFileWhole(path, []byte("two")))
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, "two", string(data))
	info, err := os.Stat(path)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o600), info.Mode().Perm(), "the mode of the file before is kept")
	require.Equal(t, []string{"a.csv"}, files(t, dir))
}

// A link stays what it is; the file it points to is written, whether it was there or not.
func TestWriteFileWholeFollowsLinks(t *testing.T) {
	dir := t.TempDir()
	link := filepath.Join(dir, "link")
	if err := os.Symlink("target", link); err != nil {
		t.Skip("no symbolic links here:", err)
	}
	for _, text := range []string{"one", "two"} {
		require.NoError(t, WriteFileWhole(link, []byte(text)))
		data, err := os.ReadFile(filepath.Join(dir, "target"))
		require.NoError(t, err)
		require.Equal(t, text, string(data))
		info, err := os.Lstat(link)
		require.NoError(t, err)
		require.NotZero(t, info.Mode()&os.ModeSymlink)
	}
}

func TestWriteFileWholeLeavesNothingBehind(t *testing.T) {
	dir := t.TempDir()
	missing := filepath.Join(dir, "missing", "a.csv")
	err := WriteFileWhole(missing, []byte("x"))
	require.EqualError(t, err, "writing "+missing+": no such file or directory")
	require.ErrorIs(t, err, fs.ErrNotExist)
	require.Empty(t, files(t, dir))

	// A name as long as names may be is written, one that is longer is not.
	full := filepath.Join(dir, strings.Repeat("n", 255))
	require.NoError(t, WriteFileWhole(full, []byte("after")))
	require.EqualError(t, WriteFileWhole(full+"n", []byte("after")), "writing "+full+"n: file name too long")
	require.Len(t, files(t, dir), 1)

	folder := filepath.Join(dir, "folder")
	require.NoError(t, os.Mkdir(folder, 0o755))
	require.ErrorContains(t, WriteFileWhole(folder, []byte("x")), "not a plain file")
	require.Len(t, files(t, dir), 2)

	locked := filepath.Join(dir, "locked")
	require.NoError(t, os.Mkdir(locked, 0o755))
	kept := filepath.Join(locked, "kept.csv")
	require.NoError(t, os.WriteFile(kept, []byte("before"), 0o644))
	require.NoError(t, os.Chmod(locked, 0o555))
	if os.Geteuid() != 0 { // nothing is locked to root
		require.Error(t, WriteFileWhole(kept, []byte("after")))
	}
	require.NoError(t, os.Chmod(locked, 0o755))
	require.Equal(t, []string{"kept.csv"}, files(t, locked))
}

// TestCause: what is said of a file does not hold the name of the temporary one.
func TestCause(t *testing.T) {
	require.Equal(t, fs.ErrPermission, cause(&fs.PathError{Op: "open", Path: ".a.csv.123", Err: fs.ErrPermission}))
	require.Equal(t, fs.ErrExist, cause(&os.LinkError{Op: "rename", Old: ".a.csv.123", New: "a.csv", Err: fs.ErrExist}))
	require.Equal(t, fs.ErrClosed, cause(fs.ErrClosed))
}

// Several files are written all or not at all: what stood there before is put back, new ones go.
func TestWriteFilesWhole(t *testing.T) {
	folder := t.TempDir()
	at := func(name string) string { return filepath.Join(folder, name) }
	require.NoError(t, WriteFilesWhole([]File{{at("a"), []byte("one")}, {at("b"), []byte("two")}}))
	require.NoError(t, WriteFilesWhole([]File{{at("a"), []byte("three")}, {at("c"), []byte("four")}}))
	require.NoError(t, os.Mkdir(at("d"), 0o700))
	require.EqualError(t, WriteFilesWhole([]File{{at("a"), []byte("five")}, {at("e"), []byte("six")}, {at("d"), nil}}),
		"writing "+at("d")+": it is there already and is not a plain file")
	require.Error(t, WriteFilesWhole([]File{{at("a"), []byte("five")}, {filepath.Join(folder, "none", "f"), nil}}))

	// One that cannot take its place after others have: a folder that appears between the look and the writing.
	a, err := stage(File{at("a"), []byte("five")}, true)
	require.NoError(t, err)
	require.NoError(t, os.Rename(a.fresh, a.path))
	a.placed = true
	g, err := stage(File{at("g"), []byte("seven")}, true)
	require.NoError(t, err)
	require.NoError(t, os.Rename(g.fresh, g.path))
	g.placed = true
	for _, s := range []*stagedFile{g, a} {
		s.undo()
		s.clean()
	}

	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	require.Equal(t, []string{"a", "b", "c", "d"}, names)
	for name, want := range map[string]string{"a": "three", "b": "two", "c": "four"} {
		got, err := os.ReadFile(at(name))
		require.NoError(t, err)
		require.Equal(t, want, string(got), name)
	}
}
