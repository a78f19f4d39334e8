package modelfile

import (
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/machine"
)

func TestReadMissingFile(t *testing.T) {
	_, err := Read(filepath.Join(t.TempDir(), "no.yaml"))
	require.ErrorIs(t, err, fs.ErrNotExist)
	require.False(t, errors.As(err, new(machine.Faults)), "trouble with the file system is not a fault of the model")
}

func TestReadRefuses(t *testing.T) {
	garbage := func(n int) []byte {
		r := rand.New(rand.NewPCG(1, 1))
		data := make([]byte, n)
		for i := range data {
			data[i] = byte(r.Uint32())
		}
		return data
	}
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"empty", nil, "F: the file is empty"},
		{"only a comment", []byte("# nothing\n"), "F: the file is empty"},
		{"binary", []byte("machine: m\x00\x01\x02"), "F: this is not a text file\n\ta model file is YAML in UTF-8"},
		{"not UTF-8", []byte("machine: \xff\xfe"), "F: this is not a text file\n\ta model file is YAML in UTF-8"},
		{"50 MB of garbage", garbage(50e6), "F: the file is too large for a model: 50000000 bytes, at most 1048576 are read"},
		{"1 MB of garbage", garbage(1e6), "F: this is not a text file\n\ta model file is YAML in UTF-8"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			t.Chdir(dir)
			require.NoError(t, os.WriteFile("F", c.data, 0o600))
			_, err := Read("F")
			require.EqualError(t, err, c.want)
			require.IsType(t, machine.Faults{}, err)
		})
	}
}

func TestReadDirectory(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.Mkdir("d", 0o700))
	_, err := Read("d")
	require.EqualError(t, err, "d: this is a directory, not a model file")
	require.IsType(t, machine.Faults{}, err)
}

func TestReadSample(t *testing.T) {
	doc, err := Read(filepath.Join("..", "..", "testdata", "models", "clock-plate-mill.yaml"))
	require.NoError(t, err)
	require.Equal(t, "Clock-plate mill", doc.Name())
}
