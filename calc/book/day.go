package book

import (
	"strconv"
	"strings"
	"time"
)

// dayOf is the local day of a moment as a whole number, 20261112.
func dayOf(ms int64, zone int) int64 {
	y, m, d := local(ms, zone).Date()
	return int64(y)*10000 + int64(m)*100 + int64(d)
}

// dayAround is where the local day of a moment begins and where the next one does, ms since 1970.
func dayAround(ms int64, zone int) (from, to int64) {
	const long = 24 * 60 * 60 * 1000
	own := ms + int64(zone)*60000
	from = ms - ((own%long)+long)%long
	return from, from + long
}

func local(ms int64, zone int) time.Time {
	return time.UnixMilli(ms + int64(zone)*60000).UTC()
}

// showDay writes "12 Nov 2026", "" for no day.
func showDay(day int64) string {
	if day == 0 {
		return ""
	}
	return time.Date(int(day/10000), time.Month(day/100%100), int(day%100), 0, 0, 0, 0, time.UTC).Format("2 Jan 2006")
}

func showTime(ms int64, zone int) string { return local(ms, zone).Format("2 Jan 2006, 15:04") }

// readDay reads a day as typed: 2026-11-12, 12.11.2026, 12 Nov 2026; a month alone is its last day. "" is no day.
func readDay(text, field string) (int64, *Refusal) {
	text = strings.Join(strings.Fields(text), " ")
	if text == "" {
		return 0, nil
	}
	for _, layout := range []string{"2006-01-02", "2.1.2006", "2 Jan 2006", "2 January 2006"} {
		if t, err := time.Parse(layout, text); err == nil {
			return dayOf(t.UnixMilli(), 0), nil
		}
	}
	for _, layout := range []string{"2006-01", "1.2006", "Jan 2006", "January 2006", "1/2006"} {
		if t, err := time.Parse(layout, text); err == nil {
			return dayOf(t.AddDate(0, 1, -1).UnixMilli(), 0), nil
		}
	}
	return 0, refuse("misread", field, strconv.Quote(text)+" is not read as a day", "write it as 2027-11-30, 30.11.2027 or 30 Nov 2027; a month alone means its last day")
}
