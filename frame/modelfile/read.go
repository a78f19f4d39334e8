package modelfile

import (
	"fmt"
	"io"
	"os"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// Read reads and checks the model file at path. Trouble with getting at the file is an error that wraps the
// file system's; whatever is wrong with what it holds is [machine.Faults].
func Read(path string) (*Document, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, fmt.Errorf("read the model: %w", err)
	}
	if info.IsDir() {
		return nil, machine.Faults{{File: path, What: "this is a directory, not a model file"}}
	}
	if info.Size() > source.MostBytes {
		return nil, machine.Faults{source.TooLarge(path, fmt.Sprintf("%d bytes", info.Size()))}
	}
	data, err := ReadText(path)
	if err != nil {
		return nil, err
	}
	return Parse(path, data)
}

// ReadText reads the text of the model file at path, or of one that is too large as much as shows that. The error wraps
// the file system's.
func ReadText(path string) ([]byte, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("read the model: %w", err)
	}
	defer file.Close() // opened for reading: closing loses nothing
	return readAll(file)
}

// ReadFrom reads a document from a stream; name stands for it in faults. The errors are those of [Read].
func ReadFrom(name string, r io.Reader) (*Document, error) {
	data, err := readAll(r)
	if err != nil {
		return nil, err
	}
	return Parse(name, data)
}

// readAll reads a stream, of which it is not known beforehand how much comes.
func readAll(r io.Reader) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, source.MostBytes+1))
	if err != nil {
		return nil, fmt.Errorf("read the model: %w", err)
	}
	return data, nil
}
