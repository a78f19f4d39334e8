package modelfile

import (
	"fmt"
	"io"
	"os"

	"tiploop/frame/machine"
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
	if info.Size() > mostBytes {
		return nil, machine.Faults{tooLarge(path, fmt.Sprintf("%d bytes", info.Size()))}
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("read the model: %w", err)
	}
	defer file.Close() // opened for reading: closing loses nothing
	return ReadFrom(path, file)
}

// ReadFrom reads a document from a stream; name stands for it in faults. The errors are those of [Read].
func ReadFrom(name string, r io.Reader) (*Document, error) {
	data, err := io.ReadAll(io.LimitReader(r, mostBytes+1)) // how much comes is not known beforehand
	if err != nil {
		return nil, fmt.Errorf("read the model: %w", err)
	}
	return Parse(name, data)
}
