package webdriver

import (
	"encoding/json"
	"net/http"
	"strings"
)

// elementKey is the protocol's fixed name for a reference to an element.
const elementKey = "element-6066-11e4-a52e-4f735466cecf"

// Element is something on the page.
type Element struct {
	session *Session
	id      string
}

// MarshalJSON lets an element be an argument of Run.
func (e Element) MarshalJSON() ([]byte, error) {
	return json.Marshal(map[string]string{elementKey: e.id})
}

// Find gives the first element that a CSS selector names.
func (s *Session) Find(css string) (Element, error) {
	var ref map[string]string
	err := s.call(http.MethodPost, s.at("/element"), map[string]string{"using": "css selector", "value": css}, &ref)
	return Element{s, ref[elementKey]}, err
}

// Pick runs a script that returns one element; ok is false when it returns null.
func (s *Session) Pick(script string, args ...any) (e Element, ok bool, err error) {
	var ref map[string]string
	if err := s.Run(script, &ref, args...); err != nil || ref == nil {
		return Element{}, false, err
	}
	return Element{s, ref[elementKey]}, true, nil
}

func (e Element) path(rest string) string { return e.session.at("/element/" + e.id + rest) }

// Click scrolls to the element and clicks its middle; something that lies over it is an error.
func (e Element) Click() error {
	return e.session.call(http.MethodPost, e.path("/click"), nil, nil)
}

// Type sends keys to the element.
func (e Element) Type(text string) error {
	// A line end is a key of the protocol: as a character one of the two engines types nothing for it.
	text = strings.ReplaceAll(text, "\n", "\ue007")
	return e.session.call(http.MethodPost, e.path("/value"), map[string]string{"text": text}, nil)
}

// Text is the text of the element as a person sees it.
func (e Element) Text() (string, error) {
	var text string
	err := e.session.call(http.MethodGet, e.path("/text"), nil, &text)
	return text, err
}
