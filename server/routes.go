package server

import "net/http"

// routes is every address that the home store answers; one handler in a file of its own.
func (s *Server) routes() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /health", s.healthPage)
	mux.HandleFunc("GET /api/health", s.health)
	mux.HandleFunc("POST /api/devices", s.addDevice)
	mux.HandleFunc("POST /api/handover", s.handOver)
	mux.HandleFunc("GET /api/log/{stream}", s.log)
	mux.HandleFunc("GET /api/labels", s.labels)
	mux.HandleFunc("GET /api/backup", s.backupSays)
	mux.HandleFunc("POST /api/backup", s.backupNow)
	mux.HandleFunc("GET /api/photos/{name}", s.photo)
	mux.HandleFunc("PATCH /api/photos/{name}", s.addPhoto)
	mux.HandleFunc("GET /api/", s.noSuchAnswer)
	mux.HandleFunc("GET /ws", s.socket)
	mux.HandleFunc("GET /j/{code}", s.card)
	mux.Handle("GET /", s.app())
	return guard(mux)
}

// guard sets what holds for every answer.
func guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		// The book must not be read by a page that points a name of its own at this computer.
		if !ownHost(r.Host) {
			http.Error(w, "This home store answers to localhost only.", http.StatusMisdirectedRequest)
			return
		}
		next.ServeHTTP(w, r)
	})
}

func (s *Server) noSuchAnswer(w http.ResponseWriter, r *http.Request) {
	http.Error(w, "This home store has no answer at "+r.URL.Path+".", http.StatusNotFound)
}
