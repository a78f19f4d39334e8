package drive

import "tiploop/frame/constant"

// mustBePositive panics unless v is positive and finite.
func mustBePositive(what string, v float64) {
	if err := constant.Positive(what, v); err != nil {
		panic("drive: " + err.Error())
	}
}
