package calc_test

import (
	"reflect"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"github.com/shopspring/decimal"

	"stillroom/calc"
)

// history writes events as "stream seq log seenLog at move|count n", parted by semicolons, all of lot L at place P.
func history(t *testing.T, text string) []calc.StockEvent {
	t.Helper()
	var out []calc.StockEvent
	for _, part := range strings.Split(text, ";") {
		w := strings.Fields(part)
		if len(w) != 7 {
			t.Fatalf("event %q cannot be read", part)
		}
		n := func(i int) int64 {
			v, err := strconv.ParseInt(w[i], 10, 64)
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
		out = append(out, calc.StockEvent{Stream: w[0], Seq: uint64(n(1)), Log: uint64(n(2)), SeenLog: uint64(n(3)), At: n(4), Lot: "L", Place: "P", Count: w[5] == "count", N: n(6)})
	}
	return out
}

func TestPublishedStock(t *testing.T) {
	for _, row := range published(t, "stock") {
		hand := calc.OnHand(history(t, row["events"]))
		if len(hand) != 1 {
			t.Fatalf("%s: %+v", row["check"], hand)
		}
		near(t, row, decimal.New(hand[0].N, 0))
		if row["difference"] != "" && strconv.FormatInt(hand[0].Difference, 10) != row["difference"] {
			t.Errorf("%s: difference %d, want %s", row["check"], hand[0].Difference, row["difference"])
		}
	}
}

// TestStockIsTheSameInEveryOrder draws devices that write, read the log and have wrong clocks, then shuffles and repeats what they wrote.
func TestStockIsTheSameInEveryOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		devices := []string{"a", "b", "c"}
		seq, read := map[string]uint64{}, map[string]uint64{}
		var log uint64
		var events []calc.StockEvent
		for range rapid.IntRange(1, 25).Draw(t, "events") {
			d := rapid.SampledFrom(devices).Draw(t, "device")
			if rapid.Bool().Draw(t, "reads first") {
				read[d] = log
			}
			seq[d]++
			e := calc.StockEvent{Stream: d, Seq: seq[d], SeenLog: read[d], At: rapid.Int64Range(0, 9).Draw(t, "clock"), Lot: rapid.SampledFrom([]string{"L", "M"}).Draw(t, "lot"),
				Place: rapid.SampledFrom([]string{"P", "Q"}).Draw(t, "place"), Count: rapid.IntRange(0, 2).Draw(t, "count") == 0, N: rapid.Int64Range(0, 30).Draw(t, "n")}
			if !e.Count {
				e.N -= 15
			}
			if rapid.IntRange(0, 4).Draw(t, "arrived") > 0 {
				log++
				e.Log = log
			}
			events = append(events, e)
		}
		want := calc.OnHand(events)
		again := append(rapid.Permutation(events).Draw(t, "order"), events[rapid.IntRange(0, len(events)-1).Draw(t, "twice")])
		if got := calc.OnHand(again); !reflect.DeepEqual(got, want) {
			t.Fatalf("%+v\n%+v", got, want)
		}
	})
}

func TestStockRefusesWhatCannotBe(t *testing.T) {
	for request, field := range map[string]string{
		`{"events":[{"stream":"a","seq":1,"count":-1}]}`:             "events[0].count",
		`{"events":[{"stream":"a","seq":1,"count":1,"move":1}]}`:     "events[0].count",
		`{"events":[{"stream":"a","seq":1,"move":"1.5"}]}`:           "events[0].move",
		`{"events":[{"stream":"a","move":"1"}]}`:                     "events[0].seq",
		`{"events":[{"stream":"a","seq":1,"move":1e30}]}`:            "events[0].move",
		`{"events":[{"stream":"a","seq":1,"at":"noon","move":"1"}]}`: "events[0].at",
	} {
		if _, err := calc.Do("stock", []byte(request)); err == nil || !strings.HasPrefix(err.Error(), field) {
			t.Errorf("%s: %v", request, err)
		}
	}
}
