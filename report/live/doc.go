// Package live serves the page of one machine on a loopback address, keeps it up to date in every browser that has it
// open, and takes in what is moved and written there. It solves nothing and reads no file: a [Desk] does.
//
//	s, err := live.Listen(desk)
//	fmt.Println(s.Address())
//	err = s.Serve(ctx) // until ctx is done
//
// Meanwhile [Server.ShowPage] and [Server.ShowState] put the newest page and state up, from any goroutine. There is only
// a newest one: a reader that is slow is sent that, once it reads, and what it missed is gone; nobody waits for it.
//
// The server listens on 127.0.0.1 and at a port that the system picks. Every address begins with a random token, and
// whoever asks must ask for that host and come from that page (Host, Origin, Sec-Fetch-Site); all else is not found or
// refused. There are four addresses and none of them names a file.
//
// Numbers of a state are in the units that stand beside them; texts are plain, and the page's script writes them as such.
package live
