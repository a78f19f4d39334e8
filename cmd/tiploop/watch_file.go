package main

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"time"

	"tiploop/frame/modelfile"
)

// lookEvery is how often the file is looked at.
const lookEvery = 50 * time.Millisecond

// watchedFile notices what becomes of a model file. It reads all of the file by its name each time, of which there is
// little: so it does not matter whether an editor writes into it or puts another in its place, nor what time that bears.
type watchedFile struct {
	path string
	last *looked // as it was last
}

// looked is what the file looks like.
type looked struct {
	text []byte
	gone error // why there is none; nil: there is one
}

func (l looked) same(as *looked) bool {
	if as == nil || l.gone != nil || as.gone != nil {
		return as != nil && l.gone != nil && as.gone != nil && l.gone.Error() == as.gone.Error()
	}
	return bytes.Equal(l.text, as.text)
}

// follow tells a desk of the file until the context is done: at first, and whenever it is not what the desk holds.
func (f *watchedFile) follow(ctx context.Context, d *desk) {
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	for {
		held := d.holds() // before the file is read: see takeInstead
		if now, news := f.look(held); news {
			d.takeInstead(held, now)
		}
		select {
		case <-tick.C:
		case <-ctx.Done():
			return
		}
	}
}

// look looks once; news says whether there is anything to tell one who holds that it is so (nil: nothing yet). A file that
// makes no machine, or is not there, is told of when it is still so at the next look: an editor may be at it.
func (f *watchedFile) look(held *looked) (now looked, news bool) {
	now = f.read()
	again := now.same(f.last)
	f.last = &now
	return now, !now.same(held) && (again || now.reads(f.path))
}

// read reads the file.
func (f *watchedFile) read() looked {
	info, err := os.Stat(f.path)
	if err == nil && !info.Mode().IsRegular() {
		err = errors.New("it is not a plain file")
	}
	if err != nil {
		return looked{gone: plainCause(err)}
	}
	text, err := modelfile.ReadText(f.path)
	if err != nil {
		return looked{gone: plainCause(err)}
	}
	return looked{text: text}
}

// reads tells whether the text makes machines as far as can be told without solving them.
func (l looked) reads(path string) bool {
	if l.gone != nil {
		return false
	}
	_, err := l.document(path)
	return err == nil
}

// document is the model in the text; name stands for the file in faults. It makes a machine under every option.
func (l looked) document(name string) (*modelfile.Document, error) {
	doc, err := modelfile.Parse(name, l.text)
	if err != nil {
		return nil, err
	}
	for _, option := range optionsOf(doc) {
		if _, err := doc.Machine(drawnName(doc, option)); err != nil {
			return nil, ofOptionIn(doc, option, err)
		}
	}
	return doc, nil
}

// plainCause is what the file system said, without the folders that the file is in.
func plainCause(err error) error {
	var onPath *fs.PathError
	if errors.As(err, &onPath) {
		return onPath.Err
	}
	return err
}
