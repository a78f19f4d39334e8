package modelfile

import (
	"sync"

	"tiploop/beam"
	"tiploop/frame/fingerprint"
)

// mostSections is how many sections are kept: more than any machine has.
const mostSections = 500

// sectionCache keeps the properties of sections. Those of a drawn outline take a numerical solution, some ten
// milliseconds, and a machine's bars and its options share most of theirs. It may be used from several
// goroutines at once.
type sectionCache struct {
	mu    sync.Mutex
	known map[fingerprint.Sum]beam.Section
}

func newSectionCache() *sectionCache { return &sectionCache{known: map[fingerprint.Sum]beam.Section{}} }

// of gives the properties of a shape in a material of Poisson's ratio nu.
func (c *sectionCache) of(shape beam.Shape, nu float64) (beam.Section, error) {
	key := fingerprint.Of(shape, nu)
	c.mu.Lock()
	section, ok := c.known[key]
	c.mu.Unlock()
	if ok {
		return section, nil
	}
	section, err := shape.Section(nu)
	if err != nil {
		return section, err
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if len(c.known) >= mostSections {
		clear(c.known)
	}
	c.known[key] = section
	return section, nil
}
