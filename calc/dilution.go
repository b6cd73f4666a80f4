package calc

// waysOut works out what would let a line be weighed safely: half a step of rounding and half a step of reading must stay inside its room.
func waysOut(lines []WeighLine, i int, batch, d Mass) WaysOut {
	l := &lines[i]
	down, up, _, _ := l.room()
	room := down
	if room < 0 || up >= 0 && up < room {
		room = up
	}
	var w WaysOut
	if room <= 0 {
		return w
	}
	const unit = int64(Hundred) * tolerated
	// d ≤ room × batch
	if least := Mass(ceilDiv(int64(d)*unit, room)); least <= heaviest {
		round := 10 * Gram
		if least < 100*Gram {
			round = Gram
		}
		w.Batch = Mass(ceilDiv(int64(least), int64(round))) * round
	}
	for _, finer := range []Mass{Gram / 10, Gram / 100, Gram / 1000} {
		if finer < d && int64(finer)*unit <= room*int64(batch) {
			w.Step = finer
			break
		}
	}
	w.Dilute = dilute(lines, i, batch, d, room)
	return w
}

// largestDilution is more than anyone stirs for one small line (own rule); a dilution is not offered either when nine tenths would be left over.
const largestDilution = 500 * Gram

// dilute finds the weakest strength at which the line can be weighed. The room is shared out: a third for weighing the active, a third for
// taking of the dilution, less than a third for the whole. It is open only when the formula holds enough of the solvent.
func dilute(lines []WeighLine, i int, batch, d Mass, room int64) Dilution {
	l := &lines[i]
	solvent := -1
	for j := range lines {
		o := &lines[j]
		fits := o.Water && (l.Soluble == "water" || l.Soluble == "both") || o.Oil && (l.Soluble == "oil" || l.Soluble == "both")
		if j != i && fits && (solvent < 0 || o.Percent > lines[solvent].Percent) {
			solvent = j
		}
	}
	if solvent < 0 {
		return Dilution{}
	}
	part := int64(l.Percent) * tolerated // the line in the unit of room
	// half a step of the active at most a third of the room: a ≥ 3 d ÷ 2 × part ÷ room, on the grid
	active := Mass(ceilDiv(3*int64(d)*part, 2*room*int64(d))) * d
	for _, times := range []int64{2, 5, 10, 20, 50, 100} {
		exact := int64(l.Percent) * int64(batch) * times // 10⁻⁶ mg
		take := Mass(roundDiv(exact, int64(Hundred)*int64(d))) * d
		if take == 0 || 3*int64(d)*part > room*int64(take) { // a whole step, since take is rounded too
			continue
		}
		active = max(active, Mass(ceilDiv(int64(take), times*int64(d)))*d) // there must be enough of it
		z := Dilution{Active: active, Whole: active * Mass(times), Take: take, Solvent: lines[solvent].ID}
		z.In = z.Whole - z.Active
		z.Less = Mass(roundDiv(int64(take)*(times-1), times*int64(d))) * d
		if z.Whole > largestDilution || z.Whole > 10*z.Take || int64(z.Less)*int64(Hundred) > int64(lines[solvent].Percent)*int64(batch) {
			return Dilution{}
		}
		z.Says = "dilute first: " + z.Active.On(d) + " g in " + z.In.On(d) + " g of " + nameOr(lines[solvent].Name, "the solvent") + ", take " + z.Take.On(d) + " g of that and " + z.Less.On(d) + " g less of " + nameOr(lines[solvent].Name, "the solvent")
		return z
	}
	return Dilution{}
}

func nameOr(name, or string) string {
	if name == "" {
		return or
	}
	return name
}

// ceilDiv is a ÷ b rounded up, for a ≥ 0 and b > 0.
func ceilDiv(a, b int64) int64 { return (a + b - 1) / b }
