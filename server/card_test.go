package server

import (
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"stillroom/calc"
	"stillroom/calc/book"
	"stillroom/server/servertest"
	"stillroom/server/store"
	"stillroom/sync"
)

// demoJars gives the jars of the demo's filled batches, by batch.
func demoJars(t *testing.T, s *Server) [][]book.PublicJar {
	t.Helper()
	var out [][]book.PublicJar
	err := s.shelf.look(t.Context(), func(b *book.State) {
		rows, no := b.View(book.Context{Role: book.Owner, Now: noon.UnixMilli()}, "batches", []byte("{}"))
		if no != nil {
			t.Fatal(no)
		}
		for _, row := range rows.([]book.BatchRow) {
			if jars := b.PublicJars(row.Key); len(jars) > 0 {
				out = append(out, jars)
			}
		}
	})
	if err != nil || len(out) == 0 {
		t.Fatalf("the demo has no filled batch: %v", err)
	}
	return out
}

// demoBatch gives the jars of a batch of the demo that is meant for sale and stands as asked.
func demoBatch(t *testing.T, s *Server, state string) []book.PublicJar {
	t.Helper()
	for _, jars := range demoJars(t, s) {
		if standing(jars[0]) == state && jars[0].Jars.Purpose == "sale" {
			return jars
		}
	}
	t.Fatalf("no batch of the demo is %s", state)
	return nil
}

func TestCardIsForAnyone(t *testing.T) {
	s := start(t, Options{Demo: true})
	for _, jars := range demoJars(t, s) {
		j := jars[len(jars)-1]
		for _, typed := range []string{j.Code, calc.ShowJarCode(j.Code), strings.ToLower(j.Code)} {
			answer, body := get(t, s, "/j/"+typed)
			if answer.StatusCode != http.StatusOK {
				t.Fatalf("%s: %d %s", typed, answer.StatusCode, body)
			}
			for _, want := range []string{j.Jars.Product, j.Jars.Code, calc.ShowJarCode(j.Code), "ingredients", "cautions", "contact", "made", "This jar is invented"} {
				if !strings.Contains(body, want) {
					t.Errorf("%s: no %q in\n%s", typed, want, body)
				}
			}
			if strings.Contains(body, "<script") || !strings.Contains(answer.Header.Get("Content-Security-Policy"), "default-src 'none'") {
				t.Errorf("the card may run a script")
			}
		}
	}
}

func TestCardSaysWhatIsWrong(t *testing.T) {
	s := start(t, Options{Demo: true})
	code := []byte(demoJars(t, s)[0][0].Code)
	if code[6]++; code[6] > '9' {
		code[6] = '2'
	}
	wrong := string(code)
	unknown, bad := calc.JarCode("ZZZZZ", calc.JarNumbers("ZZZZZ", 1, 1)[0])
	if bad != nil {
		t.Fatal(bad)
	}
	tests := []struct {
		name, code, says string
		status           int
	}{
		{"one wrong character", wrong, "This is not a jar&#39;s code", http.StatusBadRequest},
		{"too short", "7K3", "not a jar code", http.StatusBadRequest},
		{"markup", "%3Cb%3E", "This is not a jar&#39;s code", http.StatusBadRequest},
		{"unknown", unknown, "No such jar in this book", http.StatusNotFound},
	}
	for _, test := range tests {
		answer, body := get(t, s, "/j/"+test.code)
		if answer.StatusCode != test.status || !strings.Contains(body, test.says) || strings.Contains(body, "<b>") {
			t.Errorf("%s (%s): %d\n%s", test.name, test.code, answer.StatusCode, body)
		}
	}
}

func TestHeldJarSaysDoNotUse(t *testing.T) {
	j := book.PublicJar{Code: "7K3QX04M", Jars: book.JarsMinted{Product: "Heather whipped scrub", Code: "261125-B2", Purpose: "sale"},
		Card: book.CardPublished{Batch: "7K3QX", Contact: "maker@heatherfold.example"}}
	tests := []struct {
		name string
		bar  book.BatchBarred
		says string
	}{
		{"held", book.BatchBarred{Batch: "7K3QX", Barred: true, State: "held"}, "This batch is held: do not use; contact the maker: maker@heatherfold.example."},
		{"discarded", book.BatchBarred{Batch: "7K3QX", Barred: true, State: "discarded"}, "This batch was discarded: do not use; contact the maker: maker@heatherfold.example."},
		{"released", book.BatchBarred{Batch: "7K3QX", State: "released"}, ""},
		{"no word", book.BatchBarred{}, "This batch is resting: the maker has not released it yet."},
	}
	for _, test := range tests {
		j.Bar = test.bar
		if got := cardPage(j, "").Note; got != test.says {
			t.Errorf("%s: %q", test.name, got)
		}
	}
	j.Bar, j.Jars.Purpose = book.BatchBarred{}, "trial"
	if got := cardPage(j, "").Note; !strings.Contains(got, "not for sale") {
		t.Errorf("trial: %q", got)
	}
}

// decide writes into the store's journal what a phone's command means; own is how far the phone's entries of each stream go.
func decide(t *testing.T, s *Server, p *servertest.Phone, own map[string]uint64, command, args string) {
	t.Helper()
	var drafts []book.Draft
	err := s.shelf.look(t.Context(), func(b *book.State) {
		var no *book.Refusal
		ctx := book.Context{Device: p.ID, Letter: p.Me.Letter, Role: p.Me.Role, Now: noon.UnixMilli()}
		if drafts, _, no = b.Decide(ctx, command, []byte(args)); no != nil {
			t.Fatal(no)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range drafts {
		own[d.Stream]++
		e := sync.Entry{Seq: own[d.Stream], At: noon.UnixMilli(), Kind: d.Kind, V: d.V, Body: d.Body}
		if _, err := s.folder.Store.Append(t.Context(), d.Stream, p.ID, own[d.Stream]-1, [][]byte{e.Append(nil)}, store.Meta{At: 1}); err != nil {
			t.Fatal(err)
		}
	}
}

// A word of a medicine in the workshop's name stops the labels of a released batch until somebody gives a reason.
func TestQuestionedWordsStopLabelsUntilAReasonIsGiven(t *testing.T) {
	s := start(t, Options{Demo: true})
	j := demoBatch(t, s, book.Released)[0]
	p := servertest.New(t, s.URL())
	own := map[string]uint64{}
	labels := func() (int, string) {
		answer, body := get(t, s, "/api/labels?sheet=a4-21&batch="+j.Batch, "Authorization", "Bearer "+p.Me.Token)
		return answer.StatusCode, body
	}
	if code, body := labels(); code != http.StatusOK {
		t.Fatalf("before: %d %s", code, body)
	}
	decide(t, s, p, own, "workshop.name", `{"maker":"Antiseptic Imke","address":"","contact":"","region":"EU"}`)
	if code, body := labels(); code != http.StatusConflict || !strings.Contains(body, "antiseptic") || !strings.Contains(body, "write at the batch why") {
		t.Errorf("with the word: %d %.200s", code, body)
	}
	decide(t, s, p, own, "batch.words", `{"batch":"`+j.Batch+`","reason":"it is a family name"}`)
	if code, body := labels(); code != http.StatusOK {
		t.Errorf("with a reason: %d %.200s", code, body)
	}
}

// A hold that a phone decided and the store took in stands on the public card at once.
func TestHoldReachesThePublicCard(t *testing.T) {
	s := start(t, Options{Demo: true})
	j := demoBatch(t, s, book.Released)[0]
	p := servertest.New(t, s.URL())
	if _, body := get(t, s, "/j/"+j.Code); strings.Contains(body, "do not use") {
		t.Fatalf("the card says so before the hold:\n%s", body)
	}
	own := map[string]uint64{}
	decide(t, s, p, own, "batch.hold", `{"batch":"`+j.Batch+`","reason":"smells of nothing good"}`)
	if _, body := get(t, s, "/j/"+j.Code); !strings.Contains(body, "do not use; contact the maker") || strings.Contains(body, "smells of nothing good") {
		t.Errorf("the card of a held batch:\n%s", body)
	}
}

func TestLabelsOfABatch(t *testing.T) {
	s := start(t, Options{Demo: true})
	p := servertest.Register(t, s.URL())
	jars := demoBatch(t, s, book.Released)
	path := "/api/labels?sheet=a4-21&batch=" + jars[0].Batch
	answer, body := get(t, s, path, "Authorization", "Bearer "+p.Token)
	if answer.StatusCode != http.StatusOK || answer.Header.Get("Content-Type") != "application/pdf" || !strings.HasPrefix(body, "%PDF-") {
		t.Fatalf("%d %s", answer.StatusCode, body[:min(len(body), 200)])
	}
	for _, test := range []struct {
		name, path, token string
		status            int
	}{
		{"no token", path, "", http.StatusUnauthorized},
		{"a wrong token", path, "Bearer x", http.StatusUnauthorized},
		{"an unknown batch", "/api/labels?batch=ZZZZZ", "Bearer " + p.Token, http.StatusNotFound},
		{"an unknown sheet", path + "&sheet=a3", "Bearer " + p.Token, http.StatusOK}, // the first one counts
		{"only an unknown sheet", "/api/labels?sheet=a3&batch=" + jars[0].Batch, "Bearer " + p.Token, http.StatusBadRequest},
	} {
		answer, body := get(t, s, test.path, "Authorization", test.token)
		if answer.StatusCode != test.status || answer.StatusCode != 200 && !strings.HasSuffix(body, ".\n") {
			t.Errorf("%s: %d %q", test.name, answer.StatusCode, body[:min(len(body), 200)])
		}
	}
	t.Run("only what was released, and trials", func(t *testing.T) {
		for _, test := range []struct{ state, says string }{
			{book.Resting, "is resting, so no labels are printed for it yet. Look at it the next day and release it by name"},
			{book.Held, "is held, so no labels are printed for it. Look at why"},
		} {
			jars := demoBatch(t, s, test.state)
			answer, body := get(t, s, "/api/labels?batch="+jars[0].Batch, "Authorization", "Bearer "+p.Token)
			if answer.StatusCode != http.StatusConflict || !strings.Contains(body, test.says) || !strings.Contains(body, jars[0].Jars.Code) {
				t.Errorf("%s: %d %s", test.state, answer.StatusCode, body)
			}
		}
		trial := book.PublicJar{Jars: book.JarsMinted{Purpose: "trial"}}
		if why := unprinted(trial); why != "" || mark(trial) != "trial: not for sale" {
			t.Errorf("a resting trial: %q, marked %q", why, mark(trial))
		}
		trial.Bar = book.BatchBarred{Batch: "7K3QX", Barred: true, State: book.Held}
		if unprinted(trial) == "" {
			t.Error("labels of a held trial are printed")
		}
	})
	t.Run("asked for its head alone", func(t *testing.T) {
		for _, path := range []string{path, "/api/health", "/j/" + jars[0].Code} {
			answer, body := do(t, s, "HEAD", path, nil, "Authorization", "Bearer "+p.Token)
			if answer.StatusCode != http.StatusOK || body != "" || answer.Header.Get("Content-Type") == "" || answer.Header.Get("Cache-Control") != "no-store" {
				t.Errorf("HEAD %s: %d %v %q", path, answer.StatusCode, answer.Header, body)
			}
		}
	})
	t.Run("every printed code opens its card", func(t *testing.T) {
		for _, tool := range []string{"pdftoppm", "zbarimg"} {
			if _, err := exec.LookPath(tool); err != nil {
				t.Skipf("NOT CHECKED: %s is not installed, so no printed code was followed", tool)
			}
		}
		dir := t.TempDir()
		file := filepath.Join(dir, "labels.pdf")
		if err := os.WriteFile(file, []byte(body), 0o600); err != nil {
			t.Fatal(err)
		}
		if out, err := exec.Command("pdftoppm", "-r", "300", "-gray", file, filepath.Join(dir, "page")).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		pages, _ := filepath.Glob(filepath.Join(dir, "page*.pgm"))
		out, err := exec.Command("zbarimg", append([]string{"--quiet", "--raw", "-Sdisable", "-Sqrcode.enable"}, pages...)...).Output()
		if err != nil {
			t.Fatal(err)
		}
		links := strings.Fields(string(out))
		if len(links) != len(jars) {
			t.Errorf("%d codes on %d labels", len(links), len(jars))
		}
		for _, link := range links {
			code := link[strings.LastIndex(link, "/j/")+3:]
			if answer, _ := get(t, s, "/j/"+code); answer.StatusCode != http.StatusOK {
				t.Errorf("%s leads to %d", link, answer.StatusCode)
			}
		}
	})
}

func TestLabelAddress(t *testing.T) {
	s := start(t, Options{})
	port := s.listen.Addr().String()[strings.LastIndex(s.listen.Addr().String(), ":"):]
	for named, want := range map[string]string{
		"":                             "http://localhost" + port,
		"3 Quay Lane, Harrow Sands":    "http://localhost" + port,
		"https://jars.example/":        "https://jars.example",
		" http://stillroom.local:8417": "http://stillroom.local:8417",
	} {
		if got := labelAddress(named, s.listen.Addr()); got != want {
			t.Errorf("%q gives %s, want %s", named, got, want)
		}
	}
}
