//go:build ignore

// Release builds the program for each target, collects the licences of all that is linked, and packs both with the manual
// and the examples. Nothing in an archive depends on the clock, the machine or the folder it is made in.
package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"log"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"time"
)

// targets are the systems that a release is for.
var targets = []string{"darwin/amd64", "darwin/arm64", "linux/amd64", "linux/arm64", "windows/amd64", "windows/arm64"}

const program = "tiploop"

func main() {
	log.SetFlags(0)
	log.SetPrefix("release: ")
	into := flag.String("into", "", "folder to write to")
	epoch := flag.Int64("time", 0, "time of all files, in seconds since 1970")
	flag.Parse()
	asked := flag.Args()
	if len(asked) == 0 {
		asked = targets
	}
	if err := release(*into, time.Unix(*epoch, 0).UTC(), asked); err != nil {
		log.Fatal(err)
	}
}

// release builds and packs the targets asked for.
func release(into string, at time.Time, asked []string) error {
	work, err := os.MkdirTemp("", "release-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	common, version, err := commonFiles(work)
	if err != nil {
		return err
	}
	sums := map[string][]byte{}
	for _, target := range asked {
		if !slices.Contains(targets, target) {
			return fmt.Errorf("target %q is none of %s", target, strings.Join(targets, ", "))
		}
		system, processor, _ := strings.Cut(target, "/")
		binary, err := build(work, system, processor)
		if err != nil {
			return err
		}
		files, name := maps.Clone(common), program
		if system == "windows" {
			name += ".exe"
		}
		files[name] = binary
		stem := strings.Join([]string{program, version, system, processor}, "-")
		archive, packed := stem+".tar.gz", new(bytes.Buffer)
		pack := tarGzip
		if system == "windows" {
			archive, pack = stem+".zip", zipped
		}
		if err := pack(packed, stem, files, at); err != nil {
			return err
		}
		sums[archive] = packed.Bytes()
	}
	var list strings.Builder
	for _, name := range slices.Sorted(maps.Keys(sums)) {
		if err := os.WriteFile(filepath.Join(into, name), sums[name], 0o644); err != nil {
			return err
		}
		fmt.Fprintf(&list, "%x  %s\n", sha256.Sum256(sums[name]), name)
	}
	fmt.Print(list.String())
	return os.WriteFile(filepath.Join(into, "SHA256SUMS"), []byte(list.String()), 0o644)
}

// commonFiles are those that every archive has, by name; and the program's version.
func commonFiles(work string) (files map[string][]byte, version string, err error) {
	files = map[string][]byte{}
	names, err := filepath.Glob("examples/*.yaml")
	if err != nil {
		return nil, "", err
	}
	for _, name := range append(names, "README.md", "LICENSE") {
		if files[filepath.ToSlash(name)], err = os.ReadFile(name); err != nil {
			return nil, "", err
		}
	}
	if _, err := build(work, runtime.GOOS, runtime.GOARCH); err != nil {
		return nil, "", err
	}
	said, err := output(nil, filepath.Join(work, program), "--version")
	if err != nil {
		return nil, "", err
	}
	words := strings.Fields(said)
	version = words[len(words)-1]
	pages := filepath.Join(work, "man")
	if err := os.Mkdir(pages, 0o755); err != nil {
		return nil, "", err
	}
	if _, err := output(nil, filepath.Join(work, program), "man", pages); err != nil {
		return nil, "", err
	}
	entries, err := os.ReadDir(pages)
	if err != nil {
		return nil, "", err
	}
	for _, e := range entries {
		if files["man/"+e.Name()], err = os.ReadFile(filepath.Join(pages, e.Name())); err != nil {
			return nil, "", err
		}
	}
	files["LICENCES.txt"], err = licences()
	return files, version, err
}

// fixed is the environment of a build: nothing in it is left to who builds.
func fixed(system, processor string) []string {
	return append(os.Environ(), "CGO_ENABLED=0", "GOFLAGS=-mod=readonly", "GOEXPERIMENT=", "GOWORK=off", "GOAMD64=v1",
		"GOARM64=v8.0", "GOOS="+system, "GOARCH="+processor)
}

// build builds the program for a target, and returns it.
func build(work, system, processor string) ([]byte, error) {
	path := filepath.Join(work, program)
	_, err := output(fixed(system, processor), "go", "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w -buildid=",
		"-o", path, "./cmd/"+program)
	if err != nil {
		return nil, err
	}
	return os.ReadFile(path)
}

// output runs a program and returns what it writes.
func output(env []string, name string, args ...string) (string, error) {
	cmd := exec.Command(name, args...)
	cmd.Env, cmd.Stderr = env, os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("%s %s: %w", name, strings.Join(args, " "), err)
	}
	return string(out), nil
}

// module is one that is linked.
type module struct{ name, folder string }

// linked are the modules of which any target has a package, sorted.
func linked() ([]module, error) {
	found := map[module]bool{}
	for _, target := range targets {
		system, processor, _ := strings.Cut(target, "/")
		said, err := output(fixed(system, processor), "go", "list", "-deps", "-f",
			"{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}\t{{.Dir}}{{end}}{{end}}", "./cmd/"+program)
		if err != nil {
			return nil, err
		}
		for line := range strings.Lines(said) {
			if name, folder, is := strings.Cut(strings.TrimSpace(line), "\t"); is {
				found[module{name, folder}] = true
			}
		}
	}
	root, err := output(nil, "go", "env", "GOROOT", "GOVERSION")
	if err != nil {
		return nil, err
	}
	lines := strings.Split(strings.TrimSpace(root), "\n")
	found[module{"Go, its library and runtime, " + lines[1], lines[0]}] = true
	return slices.SortedFunc(maps.Keys(found), func(a, b module) int { return strings.Compare(a.name, b.name) }), nil
}

// said is what a licence asks to be said beside its text, by module.
var said = map[string]string{
	"github.com/ajstarks/svgo": "SVGo (https://github.com/ajstarks/svgo) by Anthony Starks, used unchanged under the Creative " +
		"Commons Attribution 4.0 International License (https://creativecommons.org/licenses/by/4.0/).",
	"github.com/golang/freetype": "Of the two licences offered the FreeType License is taken. Portions of this software are " +
		"copyright © The FreeType Project (https://freetype.org). All rights reserved.",
}

// isLicence tells the files that a licence or a notice stands in; of two that are offered the one that is taken.
var isLicence = regexp.MustCompile(`(?i)^(licen[cs]e|copying|copyright|notice|patents)([-.].*)?$|^ftl\.txt$`)

// licences is the text of all licences of what is linked. It returns an error for a module without one.
func licences() ([]byte, error) {
	modules, err := linked()
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s itself is under the licence in LICENSE. What is linked with it, on one system or another:\n", program)
	for _, m := range modules {
		fmt.Fprintf(&b, "\n\n%s\n%s\n", strings.Repeat("=", 78), m.name)
		path, _, _ := strings.Cut(m.name, " ")
		if words := said[path]; words != "" {
			fmt.Fprintf(&b, "\n%s\n", words)
		}
		texts, err := textsIn(m.folder)
		if err != nil {
			return nil, err
		}
		if len(texts) == 0 {
			return nil, fmt.Errorf("%s has no licence that is found", m.name)
		}
		for _, name := range slices.Sorted(maps.Keys(texts)) {
			fmt.Fprintf(&b, "\n%s\n%s\n\n%s\n", strings.Repeat("-", 78), name, bytes.TrimSpace(texts[name]))
		}
	}
	return b.Bytes(), nil
}

// textsIn are the licences at the head of a module, and in a folder of licences there.
func textsIn(folder string) (map[string][]byte, error) {
	texts := map[string][]byte{}
	for _, at := range []string{".", "licenses"} {
		entries, err := os.ReadDir(filepath.Join(folder, at))
		if at != "." && os.IsNotExist(err) {
			continue
		}
		if err != nil {
			return nil, err
		}
		for _, e := range entries {
			if !e.Type().IsRegular() || !isLicence.MatchString(e.Name()) {
				continue
			}
			if texts[filepath.ToSlash(filepath.Join(at, e.Name()))], err = os.ReadFile(filepath.Join(folder, at, e.Name())); err != nil {
				return nil, err
			}
		}
	}
	return texts, nil
}

// modeOf is the mode of a file in an archive.
func modeOf(name string) fs.FileMode {
	if name == program || name == program+".exe" {
		return 0o755
	}
	return 0o644
}

// tarGzip packs files below a folder, sorted by name.
func tarGzip(w io.Writer, folder string, files map[string][]byte, at time.Time) error {
	z, err := gzip.NewWriterLevel(w, gzip.BestCompression)
	if err != nil {
		return err
	}
	t := tar.NewWriter(z)
	for _, name := range slices.Sorted(maps.Keys(files)) {
		head := tar.Header{Name: folder + "/" + name, Mode: int64(modeOf(name)), Size: int64(len(files[name])), ModTime: at,
			Format: tar.FormatUSTAR}
		if err := t.WriteHeader(&head); err != nil {
			return err
		}
		if _, err := t.Write(files[name]); err != nil {
			return err
		}
	}
	if err := t.Close(); err != nil {
		return err
	}
	return z.Close()
}

// zipped packs files below a folder, sorted by name.
func zipped(w io.Writer, folder string, files map[string][]byte, at time.Time) error {
	z := zip.NewWriter(w)
	for _, name := range slices.Sorted(maps.Keys(files)) {
		head := zip.FileHeader{Name: folder + "/" + name, Method: zip.Deflate, Modified: at}
		head.SetMode(modeOf(name))
		f, err := z.CreateHeader(&head)
		if err != nil {
			return err
		}
		if _, err := f.Write(files[name]); err != nil {
			return err
		}
	}
	return z.Close()
}
