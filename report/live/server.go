package live

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"strconv"
	"strings"
	"time"
)

// Desk is who works for the page.
type Desk interface {
	// Move takes numbers in place of the file's and says which move it was, from 1; it waits for no answer.
	Move(ctx context.Context, m Moved) (move int, err error)
	// Write puts a number that was moved into the file.
	Write(ctx context.Context, w Written) error
}

// Refusal is why a desk does not do what it is asked for, in words for the reader.
type Refusal string

// Error is the words.
func (r Refusal) Error() string { return string(r) }

// Bounds on what a browser may ask and on how long it may take. A page of a large machine is sent within milliseconds on
// a loopback address; who has read nothing for so long is gone.
const (
	mostAsked   = 64 << 10 // bytes of a request's body
	mostHead    = 16 << 10 // and of its head
	mostStreams = 32       // browsers that are kept up to date at once
	headWithin  = 5 * time.Second
	bodyWithin  = 10 * time.Second
	writeWithin = 10 * time.Second
	idleFor     = time.Minute
	heartbeat   = 15 * time.Second // between signs of life to a browser that nothing is new for
	leaveWithin = 2 * time.Second  // for requests under way when the server ends
)

// Server is the page on its address.
type Server struct {
	listener net.Listener
	desk     Desk
	board    *board
	token    string
	host     string // "127.0.0.1:41234"
	streams  chan struct{}
	ending   chan struct{} // closed when the server ends
}

// Listen takes a port on 127.0.0.1 for the pages of a desk. Until [Server.ShowPage] the page says that there is none yet.
func Listen(desk Desk) (*Server, error) {
	listener, err := net.Listen("tcp4", "127.0.0.1:0")
	if err != nil {
		return nil, fmt.Errorf("serve the page: %w", err)
	}
	return &Server{
		listener: listener, desk: desk, board: newBoard(shell()), token: rand.Text(), host: listener.Addr().String(),
		streams: make(chan struct{}, mostStreams), ending: make(chan struct{}),
	}, nil
}

// Address is where the page is.
func (s *Server) Address() string { return s.origin() + "/" + s.token + "/" }

func (s *Server) origin() string { return "http://" + s.host }

// ShowPage puts up a page in place of the one before: a whole document, with [Controls], [Style] and [Script] in it, that
// allows itself to fetch from its own address.
func (s *Server) ShowPage(html []byte) { s.board.showPage(html) }

// ShowState puts up a state in place of the one before, which stays when there is a number in it that is not finite: that
// is the only error.
func (s *Server) ShowState(state State) error { return s.board.showState(state) }

// Serve answers until the context is done, and then returns nil once all answers are given or a short time is over.
func (s *Server) Serve(ctx context.Context) error {
	server := &http.Server{
		Handler: s, ReadHeaderTimeout: headWithin, ReadTimeout: bodyWithin, IdleTimeout: idleFor, MaxHeaderBytes: mostHead,
	}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(s.listener) }()
	select {
	case err := <-failed:
		return fmt.Errorf("serve the page: %w", err)
	case <-ctx.Done():
	}
	close(s.ending)
	leaving, cancel := context.WithTimeout(context.Background(), leaveWithin)
	defer cancel()
	if server.Shutdown(leaving) != nil {
		_ = server.Close() // who did not let go in time is cut off
	}
	return nil
}

// ServeHTTP answers one request.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	for _, line := range [][2]string{
		{"Cache-Control", "no-store"}, {"X-Content-Type-Options", "nosniff"}, {"Referrer-Policy", "no-referrer"},
		{"Cross-Origin-Resource-Policy", "same-origin"}, {"Cross-Origin-Opener-Policy", "same-origin"},
		{"X-Frame-Options", "DENY"}, {"Content-Security-Policy", "frame-ancestors 'none'; base-uri 'none'; form-action 'none'"},
	} {
		h.Set(line[0], line[1])
	}
	if !s.fromHere(r) {
		http.Error(w, "this page answers to itself alone", http.StatusForbidden)
		return
	}
	name, ok := s.behindToken(r)
	route, known := routes[name]
	if !ok || !known {
		http.Error(w, "there is nothing here", http.StatusNotFound)
		return
	}
	if r.Method != route.method {
		h.Set("Allow", route.method)
		http.Error(w, "not in this way", http.StatusMethodNotAllowed)
		return
	}
	if name != eventsName { // which sets one for every event
		_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(writeWithin)) // a test's writer has none
	}
	route.serve(s, w, r)
}

// fromHere tells whether a request was meant for this host and comes from its page, or from nowhere, as an address that
// was typed does. What changes anything must come from the page.
func (s *Server) fromHere(r *http.Request) bool {
	origin, site := r.Header.Get("Origin"), r.Header.Get("Sec-Fetch-Site")
	switch {
	case r.Host != s.host:
		return false
	case origin != "" && origin != s.origin():
		return false
	case site != "" && site != "same-origin" && site != "none":
		return false
	}
	return r.Method == http.MethodGet || origin != ""
}

// behindToken is what stands behind the token in a request's path; false when that is not the token.
func (s *Server) behindToken(r *http.Request) (name string, ok bool) {
	path := r.URL.Path
	n := 1 + len(s.token)
	if r.URL.RawPath != "" || len(path) <= n || path[0] != '/' || path[n] != '/' { // nothing here needs an escape
		return "", false
	}
	return path[n+1:], subtle.ConstantTimeCompare([]byte(path[1:n]), []byte(s.token)) == 1
}

// route is one address.
type route struct {
	method string
	serve  func(*Server, http.ResponseWriter, *http.Request)
}

const eventsName = "events"

var routes = map[string]route{
	"":         {http.MethodGet, (*Server).servePage},
	eventsName: {http.MethodGet, (*Server).serveEvents},
	"move":     {http.MethodPost, (*Server).serveMove},
	"write":    {http.MethodPost, (*Server).serveWrite},
}

func (s *Server) servePage(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, _ = w.Write(s.board.shown()) // who has left is not told
}

// serveEvents keeps one browser up to date: it is sent the newest state, and the next one that is newest then.
func (s *Server) serveEvents(w http.ResponseWriter, r *http.Request) {
	select {
	case s.streams <- struct{}{}:
		defer func() { <-s.streams }()
	default:
		http.Error(w, "too many browsers have this page open", http.StatusServiceUnavailable)
		return
	}
	to := http.NewResponseController(w)
	// The deadline for reading a request's body would end the connection.
	_ = to.SetReadDeadline(time.Time{})
	w.Header().Set("Content-Type", "text/event-stream")
	beat := time.NewTicker(heartbeat)
	defer beat.Stop()
	known := 0
	for {
		text := ": still here\n\n"
		sent, version, news := s.board.newest()
		if version != known {
			text = "id: " + strconv.Itoa(version) + "\ndata: " + string(sent) + "\n\n" // JSON has no line breaks
			known = version
		}
		_ = to.SetWriteDeadline(time.Now().Add(writeWithin))
		if _, err := w.Write([]byte(text)); err != nil {
			return
		}
		if to.Flush() != nil {
			return
		}
		select {
		case <-news:
		case <-beat.C:
		case <-s.ending:
			return
		case <-r.Context().Done():
			return
		}
	}
}

func (s *Server) serveMove(w http.ResponseWriter, r *http.Request) {
	var m Moved
	if !asked(w, r, &m) {
		return
	}
	move, err := s.desk.Move(r.Context(), m)
	reply(w, struct {
		Move int `json:"move"`
	}{move}, err)
}

func (s *Server) serveWrite(w http.ResponseWriter, r *http.Request) {
	var written Written
	if !asked(w, r, &written) {
		return
	}
	reply(w, struct{}{}, s.desk.Write(r.Context(), written))
}

// asked reads what a browser asks for; false when that makes no sense, which it is then told.
func asked(w http.ResponseWriter, r *http.Request, to any) bool {
	if kind, _, _ := strings.Cut(r.Header.Get("Content-Type"), ";"); kind != "application/json" {
		http.Error(w, "JSON is wanted", http.StatusUnsupportedMediaType)
		return false
	}
	d := json.NewDecoder(http.MaxBytesReader(w, r.Body, mostAsked))
	d.DisallowUnknownFields()
	if err := d.Decode(to); err != nil || !ended(d) {
		http.Error(w, "this makes no sense", http.StatusBadRequest)
		return false
	}
	return true
}

// ended tells whether nothing comes after what was read.
func ended(d *json.Decoder) bool {
	_, err := d.Token()
	return errors.Is(err, io.EOF)
}

// reply writes what a desk said.
func reply(w http.ResponseWriter, found any, err error) {
	var refusal Refusal
	code := http.StatusOK
	switch {
	case errors.As(err, &refusal):
		code, found = http.StatusConflict, struct {
			Refused string `json:"refused"`
		}{string(refusal)}
	case err != nil:
		http.Error(w, "this went wrong", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(code)
	_ = json.NewEncoder(w).Encode(found) // who has left is not told
}
