package constant_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/constant"
)

func TestEntries(t *testing.T) {
	friction := constant.Entry{Key: "friction", Meaning: "friction in the thread", Unit: "-",
		Band: constant.Between(0.10, 0.12, 0.16), Source: "handbooks"}
	play := constant.Entry{Key: "play", Meaning: "play of a nut", Unit: "mm", Band: constant.Exactly(0.02),
		Source: "common practice"}
	list := []constant.Entry{friction, play}
	require.NoError(t, constant.Check(list))

	found, ok := constant.Lookup(list, "play")
	require.True(t, ok)
	require.Equal(t, play, found)
	_, ok = constant.Lookup(list, "no such")
	require.False(t, ok)

	for name, tt := range map[string]struct {
		spoil func(*constant.Entry)
		want  string
	}{
		"key":       {func(e *constant.Entry) { e.Key = "" }, "entry 1: no key"},
		"meaning":   {func(e *constant.Entry) { e.Meaning = "" }, "play: no meaning"},
		"unit":      {func(e *constant.Entry) { e.Unit = "" }, "play: no unit"},
		"source":    {func(e *constant.Entry) { e.Source = "" }, "play: no source"},
		"order":     {func(e *constant.Entry) { e.Band.Low = 1 }, "play: 1, 0.02, 0.02 are not low, typical and high"},
		"same keys": {func(e *constant.Entry) { e.Key = "friction" }, "friction: two entries of one key"},
		"several":   {func(e *constant.Entry) { e.Unit, e.Source = "", "" }, "play: no unit\nplay: no source"},
	} {
		t.Run(name, func(t *testing.T) {
			spoiled := play
			tt.spoil(&spoiled)
			require.EqualError(t, constant.Check([]constant.Entry{friction, spoiled}), tt.want)
		})
	}
}
