package main

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"

	"tiploop/frame/structure"
)

func TestModelFlags(t *testing.T) {
	for _, tt := range []struct {
		name string
		args []string
		want modelOptions
	}{
		{"none", nil, modelOptions{}},
		{"an option", []string{"--option", "long bed"}, modelOptions{options: []string{"long bed"}}},
		{"with an equals sign", []string{"--option=long bed"}, modelOptions{options: []string{"long bed"}}},
		{"two options", []string{"--option", "b", "--option", "a"}, modelOptions{options: []string{"b", "a"}}},
		{"a comma parts no options", []string{"--option", "long bed, no gussets"},
			modelOptions{options: []string{"long bed, no gussets"}}},
		{"json", []string{"--json"}, modelOptions{json: true}},
		{"csv", []string{"--csv"}, modelOptions{csv: true}},
		{"json with a picture", []string{"--out", "a.SVG", "--json"}, modelOptions{json: true, out: "a.SVG"}},
		{"among arguments", []string{"mill.yaml", "--csv"}, modelOptions{csv: true}},
		{"a detail", []string{"--detail", "section"}, modelOptions{detail: sectionDetail}},
		{"both details", []string{"--detail=both"}, modelOptions{detail: bothDetails}},
		{"a mesh", []string{"--mesh", "0.25", "--detail", "both"}, modelOptions{detail: bothDetails, mesh: meshFactor{0.25,
			true}}},
		{"the usual mesh", []string{"--detail", "solid", "--mesh", "1"}, modelOptions{detail: solidDetail,
			mesh: meshFactor{1, true}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			cmd, o := &cobra.Command{Use: "tip"}, &modelOptions{}
			o.addTo(cmd, "a picture", detailNames...)
			require.NoError(t, cmd.ParseFlags(tt.args))
			if tt.want.detail == "" {
				tt.want.detail = solidDetail
			}
			if !tt.want.mesh.asked {
				tt.want.mesh = meshFactor{times: structure.QuickMesh}
			}
			require.Equal(t, tt.want, *o)
			require.NoError(t, o.check())
		})
	}
}

func TestModelFlagsMistaken(t *testing.T) {
	for _, args := range [][]string{
		{"--option"}, {"--json=maybe"}, {"--out"}, {"--colour"}, {"-q"}, {"--detail"}, {"--mesh"}, {"--mesh", "fine"},
		{"--mesh="}, {"--mesh", "1/2"},
	} {
		cmd, o := &cobra.Command{Use: "tip"}, &modelOptions{}
		o.addTo(cmd, "a picture", detailNames...)
		require.Error(t, cmd.ParseFlags(args), "%q", args)
	}
	for _, args := range [][]string{
		{"--json", "--csv"}, {"--out", "a.bmp"}, {"--out", "a"}, {"--out", "svg"}, {"--out", "a.svg/"},
		{"--detail", "beam"}, {"--detail", ""}, {"--detail", "section,solid"},
		{"--mesh", "2", "--detail", "section"},
		{"--detail", "solid", "--mesh", "0.2"}, {"--detail", "solid", "--mesh", "4.1"}, {"--detail", "solid", "--mesh", "0"},
		{"--detail", "solid", "--mesh", "-1"}, {"--detail", "solid", "--mesh", "nan"}, {"--detail", "solid", "--mesh",
			"1e999"},
	} {
		cmd, o := &cobra.Command{Use: "tip"}, &modelOptions{}
		o.addTo(cmd, "a picture", detailNames...)
		require.NoError(t, cmd.ParseFlags(args))
		require.ErrorAs(t, o.check(), new(usageError), "%q", args)
	}
}

func TestChosenOptions(t *testing.T) {
	const parts = "machine: M\nvalues: {h: 1}\nparts: {p: {plate: {from: [0, 0, 0], to: [1, 1, h]}, material: steel}}\n"
	for _, tt := range []struct {
		name, model  string
		asked, want  []string
		isUsageError bool
	}{
		{name: "none in the file", model: parts, want: []string{structure.AsDrawn}},
		{name: "all of the file's", model: parts + "options: {b: {h: 2}, a: {h: 3}}\n", want: []string{"b", "a"}},
		{name: "those asked for", model: parts + "options: {b: {h: 2}, a: {h: 3}}\n", asked: []string{"a"},
			want: []string{"a"}},
		{name: "twice the same", model: parts + "options: {b: {h: 2}}\n", asked: []string{"b", "b"}, isUsageError: true},
		{name: "without a name", model: parts, asked: []string{""}, isUsageError: true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "m.yaml")
			require.NoError(t, os.WriteFile(path, []byte(tt.model), 0o644))
			o := modelOptions{path: path, options: tt.asked}
			_, chosen, err := o.read()
			if tt.isUsageError {
				require.ErrorAs(t, err, new(usageError))
				return
			}
			require.NoError(t, err)
			require.Equal(t, tt.want, chosen)
		})
	}
}

// TestNextOnlyWhenShown: what to stiffen next takes most of the time of tip, and CSV does not show it.
func TestNextOnlyWhenShown(t *testing.T) {
	path := filepath.Join(t.TempDir(), "m.yaml")
	require.NoError(t, os.WriteFile(path, starter, 0o644))
	for _, csv := range []bool{false, true} {
		o := &modelOptions{path: path, detail: sectionDetail, options: []string{"plain column"}, next: true, csv: csv}
		found, err := o.solve(context.Background(), new(progress), structure.TipOnly)
		require.NoError(t, err)
		for _, r := range found.Options {
			require.Equal(t, csv, r.Next == nil, r.Name)
		}
	}
}
