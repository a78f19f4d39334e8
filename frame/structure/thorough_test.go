package structure

import "os"

// thorough tells whether the environment asks for everything: all bodies, planes and draws, at the finest meshes.
func thorough() bool { return os.Getenv("TIPLOOP_THOROUGH") != "" }
