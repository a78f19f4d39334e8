package live

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"net"
	"net/http"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// soon is how long a test waits for what should come at once, on a machine that is busy a hundredfold.
const soon = 20 * time.Second

// noted is a desk that notes what it is asked for.
type noted struct {
	mu      sync.Mutex
	moves   []Moved
	written []Written
	refuse  error
}

func (n *noted) Move(_ context.Context, m Moved) (int, error) {
	n.mu.Lock()
	defer n.mu.Unlock()
	n.moves = append(n.moves, m)
	return len(n.moves), n.refuse
}

func (n *noted) Write(_ context.Context, w Written) error {
	n.mu.Lock()
	defer n.mu.Unlock()
	n.written = append(n.written, w)
	return n.refuse
}

// served is a server at work, and its desk.
func served(t *testing.T) (*Server, *noted) {
	t.Helper()
	desk := &noted{}
	s, err := Listen(desk)
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(t.Context())
	done := make(chan error, 1)
	go func() { done <- s.Serve(ctx) }()
	t.Cleanup(func() {
		cancel()
		select {
		case err := <-done:
			require.NoError(t, err)
		case <-time.After(soon):
			t.Error("the server does not end")
		}
	})
	return s, desk
}

// ask is one request with heads, each as "Name: value"; Host goes where it belongs.
func ask(t require.TestingT, method, url, body string, heads ...string) *http.Response {
	r, err := http.NewRequest(method, url, strings.NewReader(body))
	require.NoError(t, err)
	for _, h := range heads {
		name, value, _ := strings.Cut(h, ": ")
		if name == "Host" {
			r.Host = value
		}
		r.Header.Set(name, value)
	}
	client := &http.Client{Timeout: soon, CheckRedirect: func(*http.Request, []*http.Request) error {
		return http.ErrUseLastResponse
	}}
	response, err := client.Do(r)
	require.NoError(t, err)
	return response
}

// answered is the code and the text of what comes.
func answered(t require.TestingT, method, url, body string, heads ...string) (int, string) {
	response := ask(t, method, url, body, heads...)
	defer response.Body.Close()
	text, err := io.ReadAll(response.Body)
	require.NoError(t, err)
	return response.StatusCode, string(text)
}

const isJSON = "Content-Type: application/json"

func TestPageIsServed(t *testing.T) {
	s, desk := served(t)
	host, _, err := net.SplitHostPort(s.host)
	require.NoError(t, err)
	require.Equal(t, "127.0.0.1", host)
	code, text := answered(t, "GET", s.Address(), "")
	require.Equal(t, 200, code)
	require.Equal(t, string(shell()), text)
	require.Contains(t, text, Script())
	s.ShowPage([]byte("<p>mill"))
	response := ask(t, "GET", s.Address(), "")
	defer response.Body.Close()
	require.Contains(t, response.Header.Get("Content-Security-Policy"), "frame-ancestors 'none'")
	require.Equal(t, "no-store", response.Header.Get("Cache-Control"))
	page, err := io.ReadAll(response.Body)
	require.NoError(t, err)
	require.Equal(t, "<p>mill", string(page))
	origin := "Origin: " + s.origin()
	code, text = answered(t, "POST", s.Address()+"move", `{"option": "a", "values": {"reach": 120.5}}`, origin, isJSON)
	require.Equal(t, 200, code, text)
	require.JSONEq(t, `{"move": 1}`, text)
	require.Equal(t, []Moved{{"a", map[string]float64{"reach": 120.5}}}, desk.moves)
	desk.refuse = fmt.Errorf("writing: %w", Refusal("the file has changed"))
	code, text = answered(t, "POST", s.Address()+"write", `{"name": "reach"}`, origin, isJSON)
	require.Equal(t, 409, code)
	require.JSONEq(t, `{"refused": "the file has changed"}`, text)
	desk.refuse = io.ErrUnexpectedEOF
	code, text = answered(t, "POST", s.Address()+"write", `{"name": "reach"}`, origin, isJSON)
	require.Equal(t, 500, code)
	require.NotContains(t, text, "EOF", "what went wrong inside is nobody's business")
}

// Every other address, host and origin is turned away, and the desk hears of none of it.
func TestStrangersAreTurnedAway(t *testing.T) {
	s, desk := served(t)
	page, origin, move := s.Address(), "Origin: "+s.origin(), `{"option": "a", "values": {}}`
	port := s.host[strings.LastIndex(s.host, ":"):]
	wrong := strings.Repeat("A", len(s.token))
	root := s.origin() + "/"
	for _, tt := range []struct {
		name, method, url string
		code              int
		heads             []string
	}{
		{"no token", "GET", root, 404, nil},
		{"wrong token", "GET", root + wrong + "/", 404, nil},
		{"short token", "GET", root + s.token[:5] + "/", 404, nil},
		{"token without a slash", "GET", root + s.token, 404, nil},
		{"token as a name", "GET", root + "x/" + s.token + "/", 404, nil},
		{"small letters", "GET", root + strings.ToLower(s.token) + "/", 404, nil},
		{"a file", "GET", page + "mill.yaml", 404, nil},
		{"upwards", "GET", page + "../", 404, nil},
		{"upwards to a file", "GET", page + "../../../../etc/passwd", 404, nil},
		{"upwards, escaped", "GET", page + "%2e%2e/%2e%2e/etc/passwd", 404, nil},
		{"escaped slash", "GET", page + "..%2f..%2fetc%2fpasswd", 404, nil},
		{"twice", "GET", page + "/", 404, nil},
		{"beside itself", "GET", page + "x/../events", 404, nil},
		{"a dot", "GET", page + "./events", 404, nil},
		{"null byte", "GET", page + "events%00", 404, nil},
		{"backslash", "GET", page + "..%5c..%5cmill.yaml", 404, nil},
		{"another name for this computer", "GET", page, 403, []string{"Host: localhost" + port}},
		{"a name that was made to lead here", "GET", page, 403, []string{"Host: mill.example" + port}},
		{"another port", "GET", page, 403, []string{"Host: 127.0.0.1:1"}},
		{"foreign origin", "GET", page, 403, []string{"Origin: http://mill.example"}},
		{"no origin at all", "GET", page, 403, []string{"Origin: null"}},
		{"another port's origin", "GET", page + "events", 403, []string{"Origin: http://127.0.0.1:1"}},
		{"another scheme", "GET", page, 403, []string{"Origin: https://" + s.host}},
		{"a link from elsewhere", "GET", page, 403, []string{"Sec-Fetch-Site: cross-site"}},
		{"another port's page", "GET", page, 403, []string{"Sec-Fetch-Site: same-site"}},
		{"move without origin", "POST", page + "move", 403, []string{isJSON}},
		{"move from elsewhere", "POST", page + "move", 403, []string{isJSON, "Origin: http://mill.example"}},
		{"a form", "POST", page + "move", 415, []string{origin, "Content-Type: text/plain"}},
		{"move by an address", "GET", page + "move", 405, nil},
		{"page as a form", "POST", page, 405, []string{origin, isJSON}},
		{"write by another way", "PUT", page + "write", 405, []string{origin, isJSON}},
		{"look at the head", "HEAD", page, 403, nil},
	} {
		body := ""
		if tt.method != "GET" && tt.method != "HEAD" {
			body = move
		}
		code, text := answered(t, tt.method, tt.url, body, tt.heads...)
		require.Equal(t, tt.code, code, tt.name)
		require.NotContains(t, text, "root:", tt.name)
	}
	for _, body := range []string{
		"", "{", "[]", `{"option": 3}`, `{"option": "a", "more": 1}`, `{"values": {"reach": "12"}}`,
		`{"option": "a", "values": {}} {}`, `{"option": "a", "values": {}} more`, `{"option": "a", "values": {}}]`,
		`{"option": "` + strings.Repeat("x", mostAsked) + `"}`,
	} {
		code, _ := answered(t, "POST", page+"move", body, origin, isJSON)
		require.Equal(t, 400, code, "%.40s", body)
	}
	require.Empty(t, desk.moves)
	require.Empty(t, desk.written)
}

// reader reads events one by one.
type reader struct {
	body io.Closer
	*bufio.Scanner
}

func (s *Server) read(t require.TestingT) *reader {
	response := ask(t, "GET", s.Address()+"events", "")
	require.Equal(t, 200, response.StatusCode)
	r := &reader{response.Body, bufio.NewScanner(response.Body)}
	r.Buffer(nil, 1<<20)
	return r
}

// next is the next state that comes.
func (r *reader) next(t require.TestingT) (state State) {
	for r.Scan() {
		if text, ok := strings.CutPrefix(r.Text(), "data: "); ok {
			require.NoError(t, json.Unmarshal([]byte(text), &state))
			return state
		}
	}
	require.Fail(t, "the stream has ended")
	return state
}

// Two browsers are both told, at first and of what comes, and of a page by its number.
func TestEveryBrowserIsTold(t *testing.T) {
	s, _ := served(t)
	readers := []*reader{s.read(t), s.read(t)}
	for _, r := range readers {
		defer r.body.Close()
		require.Equal(t, 1, r.next(t).Page)
	}
	require.NoError(t, s.ShowState(State{File: "mill.yaml", Option: "long\nbed \u2028 </script>"}))
	for _, r := range readers {
		state := r.next(t)
		require.Equal(t, "mill.yaml", state.File)
		require.Equal(t, "long\nbed \u2028 </script>", state.Option)
	}
	s.ShowPage([]byte("new"))
	for _, r := range readers {
		state := r.next(t)
		require.Equal(t, 2, state.Page)
		require.Equal(t, "mill.yaml", state.File, "a page changes no state")
	}
}

// A state that cannot be sent is an error, and the one before stays.
func TestNoNumber(t *testing.T) {
	s, _ := served(t)
	require.NoError(t, s.ShowState(State{File: "mill.yaml"}))
	for _, bad := range []float64{math.Inf(1), math.Inf(-1), math.NaN()} {
		require.ErrorContains(t, s.ShowState(State{Values: []Value{{To: bad}}}), "show the state")
	}
	s.ShowPage([]byte("new"))
	r := s.read(t)
	defer r.body.Close()
	state := r.next(t)
	require.Equal(t, "mill.yaml", state.File)
	require.Equal(t, 2, state.Page)
}

// A reader that does not read holds up neither the desk nor another reader, and is told the newest when it does: what lies
// between is gone.
func TestSlowReader(t *testing.T) {
	s, _ := served(t)
	slow, quick := s.read(t), s.read(t)
	defer slow.body.Close()
	defer quick.body.Close()
	quick.next(t)
	const states = 300
	filler := strings.Repeat("x", 100_000) // 30 MB in all: more than the buffers of a connection hold
	for i := range states {
		require.NoError(t, s.ShowState(State{Move: i + 1, File: filler}))
	}
	last := func(r *reader) (count int) {
		for state := r.next(t); state.Move < states; state = r.next(t) {
			count++
		}
		return count
	}
	last(quick)
	require.Less(t, last(slow), states-1, "the slow one was sent everything: this test does not fill its buffers")
}

// A thousand requests at once are all answered, and more browsers than there is room for are told so.
func TestManyRequests(t *testing.T) {
	s, desk := served(t)
	origin := "Origin: " + s.origin()
	var wait sync.WaitGroup
	var right atomic.Int64
	atOnce := make(chan struct{}, 100)
	for i := range 1000 {
		wait.Go(func() {
			atOnce <- struct{}{}
			defer func() { <-atOnce }()
			code := 0
			switch i % 3 {
			case 0:
				code, _ = answered(t, "GET", s.Address(), "")
			case 1:
				code, _ = answered(t, "POST", s.Address()+"move", `{"option": "a", "values": {}}`, origin, isJSON)
			default:
				code, _ = answered(t, "GET", s.Address()+"nothing", "")
				code -= 204
			}
			if code == 200 {
				right.Add(1)
			}
		})
	}
	wait.Wait()
	require.EqualValues(t, 1000, right.Load())
	require.Len(t, desk.moves, 333)
	for range mostStreams {
		r := s.read(t)
		defer r.body.Close()
		r.next(t)
	}
	code, text := answered(t, "GET", s.Address()+"events", "")
	require.Equal(t, 503, code, text)
}

// A server ends though browsers read from it, one of them not at all.
func TestServerEnds(t *testing.T) {
	s, err := Listen(&noted{})
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(t.Context())
	done := make(chan error, 1)
	go func() { done <- s.Serve(ctx) }()
	reading, idle := s.read(t), s.read(t)
	defer reading.body.Close()
	defer idle.body.Close()
	reading.next(t)
	half, err := net.Dial("tcp", s.host) // has asked for nothing yet
	require.NoError(t, err)
	defer half.Close()
	_, err = half.Write([]byte("GET /"))
	require.NoError(t, err)
	cancel()
	select {
	case err := <-done:
		require.NoError(t, err)
	case <-time.After(soon):
		require.Fail(t, "the server does not end")
	}
	for reading.Scan() {
	}
	_, err = net.DialTimeout("tcp", s.host, soon)
	require.Error(t, err, "nobody listens any more")
}
