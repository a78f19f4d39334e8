package machine

// Note is the builder's own text for one section of the log, in Markdown.
type Note struct {
	Section string // one of LogSections
	Text    string
}

// LogSections are the sections of the log of a build in which notes may stand, in their order, each with what it tells.
var LogSections = [...]struct{ Name, About string }{
	{"question", "what the builder wants to know, in a sentence"},
	{"verdict", "which option to build, and how sure that is"},
	{"drawing", "the machine, drawn"},
	{"loads", "how far each load moves the tip"},
	{"cuts", "what each cut leaves on the work"},
	{"options", "the options side by side"},
	{"places", "the movement of the tip along paths and axes and over planes"},
	{"shares", "who gives way under each load"},
	{"next", "what to change next"},
	{"screws", "screws and what else is near a limit"},
	{"parts", "what there is to buy, saw and drill"},
	{"check", "what a dial should read"},
	{"sure", "what is not known, and what would settle it"},
	{"assumptions", "what the estimate takes for granted"},
	{"cautions", "what to take care of"},
	{"file", "the model file"},
}
