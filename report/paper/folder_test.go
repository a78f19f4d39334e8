package paper

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

func TestWriteFolderWhole(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "sheets")
	one, two := File{"a.svg", []byte("one")}, File{"b.svg", []byte("two")}
	require.NoError(t, WriteFolderWhole(path, []File{one, two}))
	require.Equal(t, []string{"a.svg", "b.svg", "contents.txt"}, files(t, path))

	// Again, with other files: nothing of the first stays.
	require.NoError(t, WriteFolderWhole(path+string(filepath.Separator), []File{two}))
	require.Equal(t, []string{"b.svg", "contents.txt"}, files(t, path))
	data, err := os.ReadFile(filepath.Join(path, "b.svg"))
	require.NoError(t, err)
	require.Equal(t, "two", string(data))

	// Somebody's own file is neither lost nor joined by others.
	require.NoError(t, os.WriteFile(filepath.Join(path, "mine.txt"), []byte("x"), 0o644))
	require.ErrorContains(t, WriteFolderWhole(path, []File{one}), `"mine.txt", which was not written here before`)
	require.Equal(t, []string{"b.svg", "contents.txt", "mine.txt"}, files(t, path))
	require.Equal(t, []string{"sheets"}, files(t, dir), "nothing is left beside it")

	// What was written here and changed since is not lost, nor a list of somebody's own.
	require.NoError(t, os.Remove(filepath.Join(path, "mine.txt")))
	require.NoError(t, os.WriteFile(filepath.Join(path, "b.svg"), []byte("two, with marks"), 0o644))
	require.ErrorContains(t, WriteFolderWhole(path, []File{one}), `"b.svg", which was not written here before, or was changed`)
	own := filepath.Join(dir, "own")
	require.NoError(t, os.Mkdir(own, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(own, Contents), []byte("plan.txt\n"), 0o644))
	require.ErrorContains(t, WriteFolderWhole(own, []File{one}), `"contents.txt", which`)
	require.NoError(t, os.RemoveAll(own))

	// An empty folder is taken, a file is not, nor is a folder without a list.
	empty := filepath.Join(dir, "empty")
	require.NoError(t, os.Mkdir(empty, 0o755))
	require.NoError(t, WriteFolderWhole(empty, []File{one}))
	require.ErrorContains(t, WriteFolderWhole(filepath.Join(empty, "a.svg"), []File{one}), "no folder")
	require.NoError(t, os.Remove(filepath.Join(empty, Contents)))
	require.Error(t, WriteFolderWhole(empty, []File{two}))
	require.Error(t, WriteFolderWhole(filepath.Join(dir, "missing", "sheets"), []File{one}))
	require.Equal(t, []string{"empty", "sheets"}, files(t, dir))

	for _, name := range []string{"", ".", "..", "../a", "x/y", Contents} {
		require.Panics(t, func() { _ = WriteFolderWhole(filepath.Join(dir, "new"), []File{{name, nil}}) }, name)
	}
	require.Panics(t, func() { _ = WriteFolderWhole(filepath.Join(dir, "new"), []File{one, one}) })
	require.Equal(t, []string{"empty", "sheets"}, files(t, dir))
}

// A link to a folder stays what it is; the folder is written.
func TestWriteFolderWholeFollowsLinks(t *testing.T) {
	dir := t.TempDir()
	target, link := filepath.Join(dir, "target"), filepath.Join(dir, "link")
	require.NoError(t, os.Mkdir(target, 0o755))
	if err := os.Symlink(target, link); err != nil {
		t.Skip("no symbolic links here:", err)
	}
	require.NoError(t, WriteFolderWhole(link, []File{{"a", nil}}))
	require.Equal(t, []string{"a", "contents.txt"}, files(t, target))
	info, err := os.Lstat(link)
	require.NoError(t, err)
	require.NotZero(t, info.Mode()&os.ModeSymlink)
}

// A PDF of several pages has them all; pages of two sizes are a mistake.
func TestEncodePages(t *testing.T) {
	page := func(width vg.Length) *Picture {
		return &Picture{Width: width, Height: 300, Paint: func(c draw.Canvas) { Sheet{Title: "Bed"}.Draw(c) }}
	}
	var b, again bytes.Buffer
	require.NoError(t, EncodePages(&b, page(200), page(200), page(200)))
	require.NoError(t, EncodePages(&again, page(200), page(200), page(200)))
	require.Equal(t, b.Bytes(), again.Bytes())
	require.Equal(t, 3, bytes.Count(b.Bytes(), []byte("/Type /Page\n")))
	require.Panics(t, func() { _ = EncodePages(&b, page(200), page(210)) })
}
