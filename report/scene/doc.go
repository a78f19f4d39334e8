// Package scene is the machine in three dimensions: what a page needs to turn it, bent by its loads, and a file of it
// for other programs.
//
//	Data     the shapes of all options as JSON that may stand in a script element
//	Script   the viewer: our own WebGL 2 code, which mounts itself on the element with the id "machine"
//	Style    the viewer's rules, for the page's one style sheet
//	GLB      one shape as a glTF 2.0 file
//
// # How a page uses it
//
//	<div id="machine">…the still drawing…</div>
//	<script type="application/json" id="scene">…Data…</script>
//	<script>…Script…</script>
//
// The still drawing stays until the viewer has drawn its first picture, and for good without WebGL 2. The script waits
// until the page has been painted. It sets styles by the object model alone, asks for nothing and evaluates nothing, so
// a content policy may name it by its hash. A page that gets new data hands it to window.tiploopScene.replace(data), text or
// object; what was chosen stays chosen where it is still there, and data that is none throws and changes nothing. When
// another option, load or position is chosen, the element gets the event "scenechosen" with their names in its detail;
// window.tiploopScene.choose({option, load, position}) chooses by name.
//
// # How movements are kept small
//
// The corners of a body move by a smooth field. It is kept as a polynomial in the coordinates of the body's own box, of the
// lowest degree that comes within a small share of the load's largest movement at every corner, so that a rigid block
// takes four vectors and a bent plate some dozen. Numbers that are read come from the shape itself. See fit.go.
package scene
