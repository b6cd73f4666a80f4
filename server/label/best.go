package label

import (
	"fmt"
	"time"
)

// BestBefore is the line of a label for a day such as 20270512, of something made on the day made; "" for no day. It
// names the last whole month that ends no later than that day, since "the end of the month" must not pass the day that a
// lot is good until (minimum durability of Reg. 1223/2009 Art. 19, R; the earliest expiry as prudence). Where
// that month would lie before the making, it names the day itself.
func BestBefore(day, made int64) string {
	if day <= 0 {
		return ""
	}
	d := time.Date(int(day/10000), time.Month(day/100%100), int(day%100), 0, 0, 0, 0, time.UTC)
	month := d
	if d.AddDate(0, 0, 1).Day() != 1 {
		month = time.Date(d.Year(), d.Month(), 0, 0, 0, 0, 0, time.UTC)
	}
	if made > 0 && int64(month.Year())*100+int64(month.Month()) <= made/100 {
		return "best before " + d.Format("2 Jan 2006")
	}
	return fmt.Sprintf("best before end of %02d/%d", month.Month(), month.Year())
}
