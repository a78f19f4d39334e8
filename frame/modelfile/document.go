package modelfile

import (
	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// modelKeys are the keys of a model file.
var modelKeys = Mapping{
	Name: "the model", About: "All of a model file.",
	Keys: []Key{
		{Name: "machine", Takes: anyText, About: "its name"},
		{Name: "about", Takes: anyText, Default: "nothing", About: "what there is to say of it"},
		{Name: "date", Takes: anyText, Default: "none", About: "the day that tiploop log shows, as it is written here"},
		{Name: "notes", Takes: either(anyText, keysOf(&noteKeys)), Default: "none",
			About: "your own words for tiploop log, in Markdown: one text, or one for each of some sections"},
		{Name: "values", Takes: byName("value", either(sized(aNumber), truth, anyText, keysOf(&sweptKeys))),
			Default: "none",
			About:   "numbers, words and true or false, by names that expressions use; an option sets them"},
		{Name: "materials", Takes: byName("material", keysOf(&materialKeys)), Default: "those of tiploop tables materials",
			About: "your own; one with the name of a built-in material takes its place"},
		{Name: "parts", Takes: byName("part", keysOf(&partKeys)), About: "plates, gussets and bars"},
		{Name: "joints", Takes: listOf(keysOf(&jointKeys)), Default: "none",
			About: "what holds two parts together; where they touch is found from the geometry"},
		{Name: "grounds", Takes: listOf(keysOf(&groundKeys)), Default: "none", About: "what the machine stands on"},
		{Name: "axes", Takes: byName("axis", keysOf(&axisKeys)), Default: "none",
			About: "what moves, with its guides and drives"},
		{Name: "positions", Takes: byName("position", byName("axis", sized(aLength))), Default: "none",
			About: "names for positions of the axes; axes that are not named stand as drawn"},
		{Name: "tool", Takes: keysOf(&toolKeys), Default: "none: then points tell how far it moves", About: "what cuts"},
		{Name: "work", Takes: keysOf(&workKeys), Default: "none; with a tool it must be given",
			About: "what is cut: from its part to the tip all is one rigid block, and the cut pushes on it where the " +
				"tip is. A vise that gives is a part of its own, and the work's part"},
		{Name: "spindle", Takes: keysOf(&spindleKeys), Default: "bearings that do not give",
			About: "its bearings, and what it can do"},
		{Name: "masses", Takes: byName("mass", keysOf(&massKeys)), Default: "none",
			About: "what hangs on a part and gives it no stiffness: a vise, a spindle motor, a counterweight"},
		{Name: "points", Takes: byName("point", keysOf(&pointKeys)), Default: "none", About: "places of interest"},
		{Name: "misfits", Takes: byName("misfit", keysOf(&misfitKeys)), Default: "none",
			About: "what does not line up until it is screwed down; each is a load of its own"},
		{Name: "shims", Takes: byName("shim", keysOf(&shimmedKeys)), Default: "none",
			About: "what is packed under feet, rails, carriages, nuts and bearings, or into joints"},
		{Name: "loads", Takes: byName("load", either(keysOf(&loadKeys), listOf(keysOf(&loadKeys)))), Default: "none",
			About: "what acts at once, by name"},
		{Name: "cuts", Takes: byName("cut", keysOf(&cutKeys)), Default: "none",
			About: "cuts; each becomes a load, its peak"},
		{Name: "travel", Takes: byName("path", keysOf(&pathKeys)),
			Default: "none; each axis by itself under tiploop travel",
			About: "paths along which the tip is followed: where on the work the spot under the tool goes, which " +
				"axis runs, or which two axes span a plane"},
		{Name: "options", Takes: byName("option", byName("value", either(sized(aNumber), truth, anyText))), Default: "none",
			About: "ways of building it; an option sets values, and nothing else"},
	},
}

// Document is a model file that has been read, before an option is applied. It does not change, and may be used
// from several goroutines at once.
type Document struct {
	file     string
	text     string
	name     string
	root     *source.Node
	options  []option
	sections *sectionCache
	standing standing // where the axes stand in the machines it gives
	over     over     // along which axes these are followed beside what the file says
}

// Parse reads a model file from memory; name is what messages call it. The error is [machine.Faults].
//
// Parse checks the form of the file, its values and its options. Whether the parts fit together depends on the
// option, and is for [Document.Machine] to say; a file whose form is wrong is searched for those faults, too.
func Parse(name string, data []byte) (*Document, error) {
	root, faults := source.Parse(name, data)
	if root == nil {
		return nil, faults
	}
	doc := &Document{file: name, text: string(data), root: root, sections: newSectionCache()}
	d := newDecoder(name, doc.sections)
	d.faults = faults
	top, ok := d.fields(root, &modelKeys)
	if !ok {
		return nil, d.faults
	}
	if n := top.need("machine"); n != nil {
		doc.name, _ = d.name(n, "machine")
	}
	top.need("parts")
	d.defineValues(top.get("values"), nil)
	doc.options = d.decodeOptions(top.get("options"))
	if len(d.faults) > 0 {
		if _, err := doc.Machine(""); err != nil {
			d.faults = append(d.faults, err.(machine.Faults)...)
		}
		return nil, d.faults.Sorted().Distinct()
	}
	return doc, nil
}

// Text is the file as it was read.
func (d *Document) Text() string { return d.text }

// Name is the machine's name.
func (d *Document) Name() string { return d.name }

// OptionNames lists the options in the order of the file.
func (d *Document) OptionNames() []string {
	var names []string
	for _, o := range d.options {
		names = append(names, o.name)
	}
	return names
}

// Machine gives the machine as an option makes it, or with "" as it is drawn, with the given numbers in place of its
// values. The error is [machine.Faults].
func (d *Document) Machine(optionName string, set ...Setting) (*machine.Machine, error) {
	c, err := d.decode(optionName, set...)
	if err != nil {
		return nil, err
	}
	if len(c.faults) > 0 || len(c.m.Parts) == 0 { // that there are none was reported when the file was read
		return nil, c.faults.Sorted().Distinct()
	}
	if c.m, err = c.m.Complete(); err != nil {
		return nil, err
	}
	if faults := d.over.addTo(c); faults != nil {
		return nil, faults
	}
	return d.standing.of(c.m)
}

// decode reads all of the file with an option and numbers in place of its values.
func (d *Document) decode(optionName string, set ...Setting) (*decoder, error) {
	settings, err := d.settings(optionName)
	if err != nil {
		return nil, err
	}
	c := newDecoder(d.file, d.sections)
	c.m.Name, c.m.Option = d.name, optionName
	top, _ := c.fields(d.root, &modelKeys)
	if n := top.get("about"); n != nil {
		c.m.About, _ = c.single(n, "about")
	}
	if n := top.get("date"); n != nil {
		c.m.Date, _ = c.single(n, "date")
	}
	c.decodeNotes(top.get("notes"))
	c.defineValues(top.get("values"), settings)
	c.fix(set)
	c.evaluateValues()
	c.decodeMaterials(top.get("materials"))
	c.decodeParts(top.get("parts"))
	c.decodeJoints(top.get("joints"))
	c.decodeGrounds(top.get("grounds"))
	c.decodeAxes(top.get("axes"))
	c.decodePositions(top.get("positions"))
	c.decodeTool(top.get("tool"))
	c.decodeWork(top.get("work"))
	c.decodeSpindle(top.get("spindle"))
	c.decodeMasses(top.get("masses"))
	c.decodePoints(top.get("points"))
	c.decodeMisfits(top.get("misfits"))
	c.decodeShims(top.get("shims"))
	c.decodeLoads(top.get("loads"))
	c.decodeCuts(top.get("cuts"))
	c.decodeTravel(top.get("travel"))
	c.wordsUsed()
	if len(set) == 0 { // else numbers stand in place of the file's for a trial
		c.decodeSweeps()
	}
	return c, nil
}
