package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What is broken is told by show, tip and compare alike, with the same words, also where it is an option that is.
func TestBrokenIsToldAlike(t *testing.T) {
	t.Parallel()
	with := func(pairs ...string) string {
		text := string(starter)
		for i := 0; i < len(pairs); i += 2 {
			require.Contains(t, text, pairs[i])
			text = strings.Replace(text, pairs[i], pairs[i+1], 1)
		}
		return text
	}
	const options = "\noptions:\n"
	for name, text := range map[string]string{
		"an option's part runs into another": with(options, options+"  broken: {reach: 20 mm}\n"),
		"an option stands loose": with("feet: [[", "if: reach > 100, feet: [[", options,
			options+"  broken: {reach: 99 mm}\n"),
		"an option's load lies beside": with(options, options+"  broken: {bed_length: 100 m}\n"),
		"a part without a joint":       with("  - {between: [arm, spindle],    bonded: true}\n", ""),
		"a word that is not known":     with("grid: [3, 1]", "gird: [3, 1]"),
		"a foot beside its part":       with("[-110, -210]", "[-1100, -210]"),
	} {
		path := filepath.Join(t.TempDir(), "broken.yaml")
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		said := map[string]string{}
		for _, command := range []string{"show", "tip", "compare"} {
			var out, errs bytes.Buffer
			code := runWith(context.Background(), []string{command, path, "--detail", sectionDetail}, streams{out: &out, err: &errs})
			require.Equalf(t, misused, code, "%s: %s %s", name, command, errs.String())
			said[command] = errs.String()
		}
		require.Equal(t, said["compare"], said["show"], name)
		require.Equal(t, said["compare"], said["tip"], name)
	}
}
