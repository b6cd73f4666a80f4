package calc

import (
	"strconv"

	"stillroom/calc/law"
)

// rulesDate stands with a finding of this book's own rules and of common practice: they are of this edition.
const rulesDate = "this book's rules, as of 25 Nov 2026"

var monthNames = [...]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}

// dayWords writes a day, year-month-day, as people read it: "25 Nov 2026"; what is no day stays as it is.
func dayWords(day string) string {
	d, err := ReadDate(day)
	if err != nil {
		return day
	}
	return strconv.Itoa(d.Day) + " " + monthNames[d.Month-1] + " " + strconv.Itoa(d.Year)
}

// both joins two dates, one where they are the same.
func both(a, b string) string {
	if a == b || b == "" {
		return a
	}
	return a + "; " + b
}

// tableDate says from when a table of law is.
func tableDate(key string) string {
	return "table of law, as of " + dayWords(law.TableDate(key))
}
