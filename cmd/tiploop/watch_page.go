package main

import (
	"bytes"
	"context"

	"tiploop/frame/answer"
	"tiploop/report/live"
	"tiploop/report/page"
	"tiploop/report/scene"
)

// livePage is the page of a log with what makes it live in it.
func livePage(ctx context.Context, s *solver, source page.Source, list []*solvedOption, found answer.Answer) ([]byte, error) {
	c := page.Content{Version: version, Answer: found, Source: source}
	var looks []scene.Option
	for i, k := range list {
		if err := s.look(ctx, k); err != nil {
			return nil, err
		}
		c.Drawn = append(c.Drawn, page.Drawn{Machine: k.machine, Inventory: inventoryOf(k.model, k.result)})
		looks = append(looks, scene.Option{Name: k.result.Name, Shapes: k.shapes, Result: &found.Options[i]})
	}
	var err error
	if c.Scene, err = sceneOf(found, looks); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = page.Write(&b, c, page.Live{Controls: live.Controls(), Style: live.Style(), Script: live.Script(),
		Connect: []string{"'self'"}})
	return b.Bytes(), err
}
