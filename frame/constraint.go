package frame

import (
	"fmt"
	"math"
	"slices"
)

// A factor below cancelled times the largest of its form is what rounding left of a zero.
const cancelled = 1e-11

// Prescribed values that miss one another by this share of the largest still fit: eliminations one after another round
// them, and a solution may be off by as much (worstResidual).
const fitting = 1e-6

// reduction expresses every freedom by the free unknowns q and the prescribed values v: u = T·q + V·v.
//
// The unknowns of one node stand together: sizes[n] of them.
type reduction struct {
	unknowns int
	sizes    []int
	owner    []int    // of each unknown: its node
	t        [][]Term // t[freedom]: unknowns and factors; the Freedom of a Term is the unknown's number
	v        [][]Term // v[freedom]: constraints and factors
	surplus  []surplus
	solved   []int  // of each constraint: the freedom it was solved for; -1 of surplus ones
	bound    []bool // of each freedom: a constraint was solved for it
}

// surplus is a constraint that follows from the others; its values must fit theirs: Σ Factor·v = 0.
type surplus struct {
	name string
	form Form // over constraint numbers
}

// reduce eliminates the constraints one by one: the freedom with the largest factor is expressed by the rest of the
// form. While it works, the value of constraint c counts as freedom n+c.
func (f *Frame) reduce() reduction { return f.reduceLike(nil) }

// reduceLike is reduce with the freedoms that another frame's constraints were solved for, where it can be.
func (f *Frame) reduceLike(like *reduction) reduction {
	n := f.freedoms()
	e := &elimination{expressed: make([]Form, n), done: make([]bool, n), users: make([][]int, n)}
	red := reduction{}
	for c, con := range f.constraints {
		form, follows := e.remains(f.numbered(con.Form), largestFactor(con.Form), c)
		if follows {
			red.surplus = append(red.surplus, surplus{con.Name, overConstraints(form, n)})
			red.solved = append(red.solved, -1)
			continue
		}
		preferred := -1
		if like != nil {
			preferred = like.solved[c]
		}
		red.solved = append(red.solved, e.express(form, preferred))
	}
	f.number(&red, e)
	return red
}

// elimination is constraints being solved one by one.
type elimination struct {
	expressed []Form  // of each freedom that is done: by what; freedom n+c is the value of constraint c
	done      []bool  // of each freedom
	users     [][]int // of each freedom: those whose expression contains it
}

// remains is what is left of a constraint's form, whose largest factor is scale, after those before it, less its value;
// and whether these left none of its freedoms, so that it follows from them.
func (e *elimination) remains(settled Form, scale float64, constraint int) (form Form, follows bool) {
	n := len(e.done)
	form = substitute(settled, e.expressed, e.done)
	form = append(form, Term{n + constraint, -1}).tidy()
	largest := 0.0
	for _, t := range form {
		if t.Freedom < n {
			largest = math.Max(largest, math.Abs(t.Factor))
		}
	}
	if largest <= cancelled*scale {
		return form, true
	}
	form = slices.DeleteFunc(form, func(t Term) bool {
		return math.Abs(t.Factor) <= cancelled*largest && t.Freedom < n
	})
	return form, false
}

// largestFactor is the size of a form's largest factor.
func largestFactor(form Form) (largest float64) {
	for _, t := range form {
		largest = math.Max(largest, math.Abs(t.Factor))
	}
	return largest
}

// express solves a form for the freedom with the largest factor, or for the preferred one if it is there, puts that
// into all earlier expressions and returns it.
func (e *elimination) express(form Form, preferred int) (slave int) {
	n := len(e.done)
	pivot := -1
	for k, t := range form {
		if t.Freedom < n && (pivot < 0 || math.Abs(t.Factor) > math.Abs(form[pivot].Factor)) {
			pivot = k
		}
	}
	if k := slices.IndexFunc(form, func(t Term) bool { return t.Freedom == preferred }); k >= 0 {
		pivot = k
	}
	slave, factor := form[pivot].Freedom, form[pivot].Factor
	form = slices.Delete(form, pivot, pivot+1)
	for k := range form {
		form[k].Factor /= -factor
		if form[k].Freedom < n {
			e.users[form[k].Freedom] = append(e.users[form[k].Freedom], slave)
		}
	}
	e.expressed[slave], e.done[slave] = form, true
	for _, user := range e.users[slave] {
		e.expressed[user] = substitute(e.expressed[user], e.expressed, e.done)
		for _, t := range e.expressed[user] {
			if t.Freedom < n && !slices.Contains(e.users[t.Freedom], user) {
				e.users[t.Freedom] = append(e.users[t.Freedom], user)
			}
		}
	}
	return slave
}

// number gives the unknowns their numbers, those of one node together, and writes the expressions over them.
func (f *Frame) number(red *reduction, e *elimination) {
	n := len(e.done)
	red.bound = e.done
	red.t, red.v = make([][]Term, n), make([][]Term, n)
	red.sizes = make([]int, len(f.nodes))
	for i := range n {
		if !e.done[i] {
			red.sizes[f.Owner(i)]++
			red.unknowns++
		}
	}
	next := make([]int, len(f.nodes))
	for node := range max(0, len(next)-1) {
		next[node+1] = next[node] + red.sizes[node]
	}
	number := make([]int, n)
	red.owner = make([]int, red.unknowns)
	for i := range n {
		if !e.done[i] {
			node := f.Owner(i)
			number[i] = next[node]
			next[node]++
			red.owner[number[i]] = node
			red.t[i] = []Term{{number[i], 1}}
		}
	}
	for i := range n {
		if !e.done[i] {
			continue
		}
		for _, t := range e.expressed[i] {
			if t.Freedom >= n {
				red.v[i] = append(red.v[i], Term{t.Freedom - n, t.Factor})
			} else {
				red.t[i] = append(red.t[i], Term{number[t.Freedom], t.Factor})
			}
		}
	}
}

// overConstraints is what a form without freedoms says of the constraints' values. A factor that rounding left of a
// zero would tie values together that have nothing to do with one another.
func overConstraints(form Form, freedoms int) Form {
	largest := 0.0
	for _, t := range form {
		if t.Freedom >= freedoms {
			largest = math.Max(largest, math.Abs(t.Factor))
		}
	}
	var out Form
	for _, t := range form {
		if t.Freedom >= freedoms && math.Abs(t.Factor) > cancelled*largest {
			out = append(out, Term{t.Freedom - freedoms, t.Factor})
		}
	}
	return out
}

// substitute puts in what is already expressed.
func substitute(form Form, expressed []Form, done []bool) Form {
	touched := false
	for _, t := range form {
		if t.Freedom < len(done) && done[t.Freedom] {
			touched = true
		}
	}
	if !touched {
		return form
	}
	var out Form
	for _, t := range form {
		if t.Freedom < len(done) && done[t.Freedom] {
			for _, s := range expressed[t.Freedom] {
				out = append(out, Term{s.Freedom, t.Factor * s.Factor})
			}
		} else {
			out = append(out, t)
		}
	}
	return out.tidy()
}

// check tells whether the values fit the constraints that follow from others.
func (r *reduction) check(values []float64) error {
	for _, s := range r.surplus {
		sum, size := 0.0, 0.0
		for _, t := range s.form {
			sum += t.Factor * values[t.Freedom]
			size = math.Max(size, math.Abs(t.Factor*values[t.Freedom]))
		}
		if math.Abs(sum) > fitting*size {
			return fmt.Errorf("frame: %s is moved against what other supports already hold", s.name)
		}
	}
	return nil
}

// toUnknowns is Tᵀ·f, added to dst.
func (r *reduction) toUnknowns(dst, f []float64) {
	for i, terms := range r.t {
		if f[i] != 0 {
			for _, t := range terms {
				dst[t.Freedom] += t.Factor * f[i]
			}
		}
	}
}

// toFreedoms writes T·q + V·v into u.
func (r *reduction) toFreedoms(u, q, v []float64) {
	for i := range u {
		sum := 0.0
		for _, t := range r.t[i] {
			sum += t.Factor * q[t.Freedom]
		}
		for _, t := range r.v[i] {
			sum += t.Factor * v[t.Freedom]
		}
		u[i] = sum
	}
}

// form reduces a form over freedoms to one over unknowns.
func (r *reduction) form(f Form) Form { return r.appendForm(nil, f) }

// appendForm is form, in the room of an empty one.
func (r *reduction) appendForm(out, f Form) Form {
	for _, t := range f {
		for _, s := range r.t[t.Freedom] {
			out = append(out, Term{s.Freedom, t.Factor * s.Factor})
		}
	}
	return out.tidy()
}
