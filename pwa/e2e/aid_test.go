package e2e

import (
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

// Too much powder falls in. The ways out open by themselves and outlive a reload; what is spooned out again is weighed,
// and the bench goes on as if nothing had happened, with the record of it.
func TestTooMuchWentInAndCameOutAgain(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		store := startStore(t, false)
		p := openPhone(t, engine, store, webdriver.Options{Profile: t.TempDir()}, "/", "today")
		p.WriteScrub("Whipped base")
		p.Tap("Save")
		p.See("revision 1")
		batch := p.StartBatch()
		p.DoUntil("weigh", "sodium cocoyl")
		p.Pad("360.0")
		p.Tap("Weighed")
		p.Has(`[data-step="rescue"]`)
		p.See("60.0 g too much of")
		must(t, p.Reload())
		p.Has(`[data-way="take back"][aria-current="true"]`)
		p.TapAt(`[data-way="accept"] > button`)
		p.See("where the formula says")
		p.TapAt(`[data-way="take back"] > button`)
		p.TapAt(`[data-part="take-way"]`)
		p.Has(`[data-step="add"]`)
		p.Pad("60")
		p.TapAt(`[data-part="added"]`)
		p.Has(`[data-step="weigh"]`)
		p.Gone("Too much went in")
		p.DoAll()
		p.Go("/batches/"+batch, "batch")
		p.See("−60.0 g")
		p.See("a rescue")
	})
}
