package chance

import "fmt"

// Columns deals the columns of a draw to unknowns: the same key gets the same column whoever asks, so that two answers
// that share an unknown share its luck. The zero value has dealt none.
type Columns struct {
	of    map[string]int
	order []string
	draws Draws
}

// Of returns the columns of unknowns, in their order; new ones are dealt the next. It is an error to ask for more than
// there are ([MostUnknowns]).
func (c *Columns) Of(unknowns []Unknown) ([]int, error) {
	if c.of == nil {
		c.of = map[string]int{}
	}
	list := make([]int, len(unknowns))
	for i, u := range unknowns {
		k, ok := c.of[u.Key]
		if !ok {
			if k = len(c.order); k == MostUnknowns {
				return nil, fmt.Errorf("more than %d numbers are unknown: no sequence spreads draws evenly over so many",
					MostUnknowns)
			}
			c.of[u.Key] = k
			c.order = append(c.order, u.Key)
		}
		list[i] = k
	}
	return list, nil
}

// Logs returns the first n draws of unknowns: the logarithm of each over its typical value, draw by draw.
func (c *Columns) Logs(unknowns []Unknown, n int) ([][]float64, error) {
	columns, err := c.Of(unknowns)
	if err != nil {
		return nil, err
	}
	if c.draws.Len() < n || c.draws.unknowns() < len(c.order) {
		c.draws = Draw(len(c.order), n)
	}
	logs := make([][]float64, n)
	for i := range logs {
		logs[i] = make([]float64, len(unknowns))
		for k, u := range unknowns {
			logs[i][k] = u.Log(c.draws.Normal(i, columns[k]))
		}
	}
	return logs, nil
}
