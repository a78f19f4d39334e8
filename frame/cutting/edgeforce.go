package cutting

import "tiploop/frame/constant"

// EdgeForce is a work material's row of coefficients of the linear edge-force law, measured by
// milling with small tools: force = (K_c h + K_e) × edge, tangential, radial and axial.
type EdgeForce struct {
	Ktc, Krc, Kac constant.Band // MPa
	Kte, Kre, Kae constant.Band // N/mm
	ChipMM        Span          // chip thicknesses it holds for
	Source        string
}

// Law returns the law at a level.
func (e EdgeForce) Law(level constant.Level) Law {
	return Law{
		Kt: e.Ktc.At(level), Kr: e.Krc.At(level), Ka: e.Kac.At(level),
		Kte: e.Kte.At(level), Kre: e.Kre.At(level), Kae: e.Kae.At(level),
		ChipMM: e.ChipMM,
	}
}
