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
		p.DoUntil("ph", "")
		p.adjustPH()
		p.Tap("Weigh jars")
		p.Pad("109")
		p.TapAt(`[data-part="write-net"]`)
		p.See("109.0 g")
		p.Tap("Enough")
		p.DoAll()
		p.Go("/batches/"+batch, "batch")
		p.See("−60.0 g")
		p.See("a rescue")
		p.See("0.9 g pH 5.4")
		p.See("Jar 1, net")
		p.See("citric acid was added; it is not in the formula")
	})
}

// adjustPH reads a pH that is too high and brings it down: a trial on a sample, four fifths into the pot, a reading, done. A
// reload in the middle of the trial loses none of its points.
func (p phone) adjustPH() {
	p.t.Helper()
	p.Pad("7.2")
	p.Tap("pH 7.2")
	p.See("stands outside 5.0 to 6.5")
	p.TapAt(`[data-part="ph-outside"]`)
	p.TapAt(`[data-stage="what"] [data-key="citric-acid"]`)
	p.Has(`[data-stage="sample"]`)
	p.Pad("20")
	p.TapAt(`[data-slot="sample"]`)
	p.Pad("50")
	p.TapAt(`[data-part="begin-trial"]`)
	p.Has(`[data-stage="points"]`)
	p.Pad("7.2")
	p.TapAt(`[data-part="next-point"]`)
	p.See("0 g pH 7.2")
	must(p.t, p.Reload())
	p.See("0 g pH 7.2")
	p.Pad("0.9")
	p.TapAt(`[data-slot="ph"]`)
	p.Pad("5.4")
	p.TapAt(`[data-part="next-point"]`)
	p.TapAt(`[data-part="keep-trial"]`)
	p.Has(`[data-stage="add"]`)
	p.Fits()
	p.Pad("34")
	p.TapAt(`[data-part="adjusted"]`)
	p.Has(`[data-stage="measure"]`)
	dry()
	p.TapAt(`[data-part="measure-again"]`)
	p.Has(`[data-step="ph"]`)
	p.Pad("5.8")
	p.Tap("pH 5.8")
	p.stepAfter("ph")
	p.Gone("stands outside")
}
