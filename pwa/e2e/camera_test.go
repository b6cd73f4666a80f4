package e2e

import (
	"bufio"
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

// Size of what a phone's camera gives when it is asked for a moderate picture.
const (
	filmWidth  = 1280
	filmHeight = 720
)

// film writes a picture as a short raw film, for Chromium to take as what its camera sees: the picture as large as fits,
// on a grey table.
func film(t *testing.T, picture image.Image) string {
	t.Helper()
	frame := image.NewGray(image.Rect(0, 0, filmWidth, filmHeight))
	draw.Draw(frame, frame.Bounds(), image.NewUniform(color.Gray{Y: 150}), image.Point{}, draw.Src)
	from := picture.Bounds()
	scale := max(float64(from.Dx())/filmWidth, float64(from.Dy())/filmHeight)
	w, h := int(float64(from.Dx())/scale), int(float64(from.Dy())/scale)
	left, top := (filmWidth-w)/2, (filmHeight-h)/2
	for y := range h {
		for x := range w {
			frame.SetGray(left+x, top+y, color.Gray{Y: mean(picture, from, float64(x)*scale, float64(y)*scale, scale)})
		}
	}
	path := filepath.Join(t.TempDir(), "film.y4m")
	f, err := os.Create(path)
	must(t, err)
	out := bufio.NewWriter(f)
	fmt.Fprintf(out, "YUV4MPEG2 W%d H%d F10:1 Ip A1:1 C420jpeg\n", filmWidth, filmHeight)
	colour := bytes.Repeat([]byte{128}, filmWidth*filmHeight/2) // both colour planes at rest: grey
	for range 3 {
		fmt.Fprint(out, "FRAME\n")
		out.Write(frame.Pix)
		out.Write(colour)
	}
	must(t, out.Flush())
	must(t, f.Close())
	return path
}

// mean is the mean brightness of the square of a picture that one point of the film covers.
func mean(p image.Image, b image.Rectangle, x, y, side float64) uint8 {
	n, sum := 0, 0
	for py := int(y); float64(py) < max(y+side, float64(int(y)+1)); py++ {
		for px := int(x); float64(px) < max(x+side, float64(int(x)+1)); px++ {
			if q := image.Pt(b.Min.X+px, b.Min.Y+py); q.In(b) {
				n++
				sum += int(color.GrayModel.Convert(p.At(q.X, q.Y)).(color.Gray).Y)
			}
		}
	}
	if n == 0 {
		return 255
	}
	return uint8(sum / n)
}

// page draws a page of a PDF at a number of dots per inch, by a program that we did not write.
func page(t *testing.T, pdf []byte, number, dpi int) image.Image {
	t.Helper()
	needProgram(t, "pdftoppm")
	dir := t.TempDir()
	source := filepath.Join(dir, "sheet.pdf")
	must(t, os.WriteFile(source, pdf, 0o644))
	n := fmt.Sprint(number)
	out, err := exec.Command("pdftoppm", "-png", "-gray", "-r", fmt.Sprint(dpi), "-f", n, "-l", n, "-singlefile", source, filepath.Join(dir, "page")).CombinedOutput()
	if err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, out)
	}
	f, err := os.Open(filepath.Join(dir, "page.png"))
	must(t, err)
	defer f.Close()
	picture, err := png.Decode(f)
	must(t, err)
	return picture
}

// cut takes a part of a page, in millimetres from its top left corner.
func cut(picture image.Image, dpi int, x, y, w, h float64) image.Image {
	dots := func(mm float64) int { return int(mm / 25.4 * float64(dpi)) }
	r := image.Rect(dots(x), dots(y), dots(x+w), dots(y+h))
	part := image.NewGray(image.Rect(0, 0, r.Dx(), r.Dy()))
	draw.Draw(part, part.Bounds(), picture, r.Min, draw.Src)
	return part
}

func needProgram(t *testing.T, name string) {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		t.Skipf("SKIPPED ALOUD: no %s here; go run ./cmd/build test installs it", name)
	}
}

// The fake camera shows what it was given, the right way round and at the right place.
func TestTheCameraSeesThePicture(t *testing.T) {
	need(t, "chromium")
	picture := image.NewGray(image.Rect(0, 0, 160, 90))
	for y := range 90 {
		for x := range 160 {
			if x < 80 && y >= 45 { // a black quarter at the bottom left
				continue
			}
			picture.SetGray(x, y, color.Gray{Y: 255})
		}
	}
	url, stop := site(t)
	defer stop()
	s := openBrowser(t, "chromium", webdriver.Options{Camera: film(t, picture)})
	must(t, s.Open(url))
	var seen struct{ W, H, BottomLeft, TopLeft, BottomRight int }
	must(t, s.Await(`
const v = document.createElement('video'); v.muted = true; v.playsInline = true;
v.srcObject = await navigator.mediaDevices.getUserMedia({ video: { width: 1280, height: 720 } });
await v.play();
await new Promise((ok) => v.requestVideoFrameCallback(ok));
const c = document.createElement('canvas'); c.width = v.videoWidth; c.height = v.videoHeight;
const g = c.getContext('2d'); g.drawImage(v, 0, 0);
const at = (x, y) => g.getImageData(x * c.width, y * c.height, 1, 1).data[1];
return { w: c.width, h: c.height, bottomLeft: at(.2, .8), topLeft: at(.2, .2), bottomRight: at(.8, .8) };`, &seen))
	if seen.W != filmWidth || seen.H != filmHeight {
		t.Errorf("the camera gives %d × %d, want %d × %d", seen.W, seen.H, filmWidth, filmHeight)
	}
	if seen.BottomLeft > 40 || seen.TopLeft < 215 || seen.BottomRight < 215 {
		t.Errorf("the camera sees %+v, want dark at the bottom left alone", seen)
	}
}
