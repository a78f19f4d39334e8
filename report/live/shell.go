package live

import _ "embed"

// Policy is that of a page which runs no script but the one of this package and loads nothing from elsewhere.
const Policy = "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src data:; " +
	"base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

//go:embed shell.html
var shell []byte

// Shell is the page as long as there is no machine to show.
func Shell() Page { return Page{shell, Policy} }
