package serve

import (
	"bufio"
	"bytes"
	"context"
	"encoding/base64"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httputil"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"golang.org/x/net/websocket"
)

var shots = flag.String("shots", "", "a folder to save pictures of the pages in")

// engine drives one window of a browser. A script is an expression; where it is a promise, what it comes to is taken.
type engine interface {
	open(url string) error
	eval(script string) (json.RawMessage, error)
	files(selector string, paths []string) error
	size(wide, high int, scheme string) error
	picture() ([]byte, error)
	key(name string) error      // such as "x" or "ArrowRight"
	inject(source string) error // runs a script that the page's content policy would not let in
}

// window is a browser's window in a test.
type window struct {
	engine
	t    *testing.T
	name string // of its pictures
}

// ——— Chromium, by its own protocol

func chromiumPath(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"chromium", "chromium-browser"} {
		if found, err := exec.LookPath(name); err == nil {
			return found
		}
	}
	t.Skip("Chromium is not installed (Debian: chromium): the pages are not tried in a browser")
	return ""
}

// chromium starts Chromium with a profile of its own, in which lanNumber is this computer. Without Chromium the test is skipped.
func chromium(t *testing.T, name string, flags ...chromedp.ExecAllocatorOption) window {
	t.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromiumPath(t)), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("host-resolver-rules", "MAP "+lanNumber+" 127.0.0.1"))
	ctx, stop := chromedp.NewExecAllocator(context.Background(), append(options, flags...)...)
	t.Cleanup(stop)
	ctx, stop = chromedp.NewContext(ctx)
	t.Cleanup(stop)
	if err := chromedp.Listen(ctx, func(event any) {
		if e, ok := event.(*runtime.EventExceptionThrown); ok {
			t.Errorf("%s: a script failed: %+v", name, e.ExceptionDetails)
		}
	}); err != nil {
		t.Fatal(err)
	}
	return window{&chromiumWindow{ctx}, t, name}
}

type chromiumWindow struct{ ctx context.Context }

func (c *chromiumWindow) do(steps ...chromedp.Action[chromedp.Void]) error {
	ctx, stop := context.WithTimeout(c.ctx, 40*time.Second)
	defer stop()
	return chromedp.Do(ctx, steps...)
}

func (c *chromiumWindow) open(url string) error { return c.do(chromedp.Navigate(url)) }

func (c *chromiumWindow) eval(script string) (json.RawMessage, error) {
	ctx, stop := context.WithTimeout(c.ctx, 40*time.Second)
	defer stop()
	got, err := chromedp.Run(ctx, chromedp.Evaluate[string](asText(script), chromedp.EvalAwaitPromise))
	return json.RawMessage(got), err
}

// asText makes a script give its answer as JSON.
func asText(script string) string {
	return "(async () => JSON.stringify((await (" + script + "\n)) ?? null))()"
}

func (c *chromiumWindow) files(selector string, paths []string) error {
	return c.do(chromedp.SetUploadFiles(chromedp.CSS(selector), paths))
}

func (c *chromiumWindow) size(wide, high int, scheme string) error {
	return c.do(chromedp.EmulateViewport(int64(wide), int64(high)), chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
		return err
	}))
}

func (c *chromiumWindow) inject(source string) error {
	return c.do(chromedp.Evaluate[chromedp.Void](source))
}

func (c *chromiumWindow) picture() ([]byte, error) {
	return chromedp.Run(c.ctx, chromedp.CaptureScreenshot())
}

func (c *chromiumWindow) key(name string) error {
	press := func(kind input.DispatchKeyEventType) chromedp.Action[chromedp.Void] {
		return chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
			p := input.DispatchKeyEventParams{Type: kind, Key: name}
			if name == "Enter" {
				p.Text, p.WindowsVirtualKeyCode, p.Code = "\r", 13, "Enter"
			}
			_, err := cdp.Call(ctx, target, input.DispatchKeyEvent, p)
			return err
		})
	}
	down := input.DispatchKeyEventTypeRawKeyDown // types nothing, as the page takes the key
	if name == "Enter" {
		down = input.DispatchKeyEventTypeKeyDown
	}
	return c.do(press(down), press(input.DispatchKeyEventTypeKeyUp))
}

// ——— Firefox, by WebDriver BiDi (W3C)

func firefoxPath() string {
	for _, name := range []string{"firefox-esr", "firefox"} {
		if found, err := exec.LookPath(name); err == nil {
			return found
		}
	}
	return ""
}

// firefox starts Firefox with a profile of its own, in which lanNumber is this computer. Without Firefox the test is skipped.
func firefox(t *testing.T, name string) window {
	t.Helper()
	return firefoxWith(t, name, t.TempDir())
}

// firefoxWith is firefox with a profile that was prepared.
func firefoxWith(t *testing.T, name, profile string) window {
	t.Helper()
	program := firefoxPath()
	if program == "" {
		t.Skip("Firefox is not installed (Debian: firefox-esr): the pages are not tried in it")
	}
	host, port, err := net.SplitHostPort(lanProxy(t))
	if err != nil {
		t.Fatal(err)
	}
	prefs := `user_pref("network.proxy.type", 1);
user_pref("network.proxy.http", "` + host + `");
user_pref("network.proxy.http_port", ` + port + `);
user_pref("network.proxy.ssl", "` + host + `");
user_pref("network.proxy.ssl_port", ` + port + `);
user_pref("network.proxy.allow_hijacking_localhost", true);
user_pref("layout.css.prefers-color-scheme.content-override", 1);
user_pref("app.update.disabledForTesting", true);
user_pref("datareporting.policy.dataSubmissionEnabled", false);
user_pref("app.normandy.enabled", false);
user_pref("remote.prefs.recommended", true);
user_pref("dom.disable_open_during_load", false);
user_pref("dom.disable_beforeunload", true);
`
	if err := os.WriteFile(filepath.Join(profile, "user.js"), []byte(prefs), 0o644); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	c := exec.CommandContext(ctx, program, "--headless", "--no-remote", "--profile", profile, "--remote-debugging-port=0", "--remote-allow-origins=http://127.0.0.1", "about:blank")
	c.Env = append(os.Environ(), "MOZ_CRASHREPORTER_DISABLE=1", "HOME="+profile)
	c.WaitDelay = 5 * time.Second
	said, err := c.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		stop()
		c.Wait()
	})
	address := make(chan string, 1)
	go func() {
		lines := bufio.NewScanner(said)
		for lines.Scan() {
			if _, at, ok := strings.Cut(lines.Text(), "WebDriver BiDi listening on "); ok {
				address <- at
			}
		}
	}()
	select {
	case at := <-address:
		w, err := bidiAt(at+"/session", func(words string) { t.Errorf("%s: a script failed: %s", name, words) })
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { w.socket.Close() })
		return window{w, t, name}
	case <-time.After(60 * time.Second):
		t.Fatal("Firefox does not say where it listens")
	}
	return window{}
}

type firefoxWindow struct {
	socket  *websocket.Conn
	context string // the window's

	mu      sync.Mutex
	next    int
	waiting map[int]chan bidiAnswer
}

type bidiAnswer struct {
	ID      int             `json:"id"`
	Type    string          `json:"type"`
	Result  json.RawMessage `json:"result"`
	Error   string          `json:"error"`
	Message string          `json:"message"`
	Method  string          `json:"method"`
	Params  struct {
		Level, Type, Text string
	} `json:"params"`
}

func bidiAt(url string, failed func(words string)) (*firefoxWindow, error) {
	socket, err := websocket.Dial(url, "", "http://127.0.0.1")
	if err != nil {
		return nil, err
	}
	f := &firefoxWindow{socket: socket, waiting: map[int]chan bidiAnswer{}}
	go func() {
		for {
			var a bidiAnswer
			if err := websocket.JSON.Receive(socket, &a); err != nil {
				return
			}
			if a.Method == "log.entryAdded" && a.Params.Level == "error" && a.Params.Type == "javascript" {
				failed(a.Params.Text)
			}
			f.mu.Lock()
			if c := f.waiting[a.ID]; c != nil && a.Method == "" {
				c <- a
				delete(f.waiting, a.ID)
			}
			f.mu.Unlock()
		}
	}()
	if _, err := f.call("session.new", map[string]any{"capabilities": map[string]any{}}); err != nil {
		return nil, err
	}
	if _, err := f.call("session.subscribe", map[string]any{"events": []string{"log.entryAdded"}}); err != nil {
		return nil, err
	}
	result, err := f.call("browsingContext.getTree", map[string]any{})
	if err != nil {
		return nil, err
	}
	var tree struct{ Contexts []struct{ Context string } }
	if err := json.Unmarshal(result, &tree); err != nil || len(tree.Contexts) == 0 {
		return nil, fmt.Errorf("no window: %s, %v", result, err)
	}
	f.context = tree.Contexts[0].Context
	return f, nil
}

func (f *firefoxWindow) call(method string, params map[string]any) (json.RawMessage, error) {
	f.mu.Lock()
	f.next++
	id, answer := f.next, make(chan bidiAnswer, 1)
	f.waiting[id] = answer
	err := websocket.JSON.Send(f.socket, map[string]any{"id": id, "method": method, "params": params})
	f.mu.Unlock()
	if err != nil {
		return nil, err
	}
	select {
	case a := <-answer:
		if a.Type == "error" {
			return nil, fmt.Errorf("%s: %s: %s", method, a.Error, a.Message)
		}
		return a.Result, nil
	case <-time.After(40 * time.Second):
		return nil, fmt.Errorf("%s: no answer", method)
	}
}

func (f *firefoxWindow) open(url string) error {
	_, err := f.call("browsingContext.navigate", map[string]any{"context": f.context, "url": url, "wait": "complete"})
	return err
}

// evaluated is what script.evaluate answers.
type evaluated struct {
	Type   string
	Result struct {
		Type     string
		Value    json.RawMessage
		SharedID string `json:"sharedId"`
	}
	ExceptionDetails struct{ Text string }
}

func (f *firefoxWindow) evaluate(script string) (e evaluated, err error) {
	result, err := f.call("script.evaluate", map[string]any{"expression": script, "target": map[string]any{"context": f.context}, "awaitPromise": true})
	if err == nil {
		err = json.Unmarshal(result, &e)
	}
	if err == nil && e.Type == "exception" {
		err = errors.New(e.ExceptionDetails.Text)
	}
	return e, err
}

func (f *firefoxWindow) eval(script string) (json.RawMessage, error) {
	e, err := f.evaluate(asText(script))
	if err != nil {
		return nil, err
	}
	var text string
	err = json.Unmarshal(e.Result.Value, &text)
	return json.RawMessage(text), err
}

func (f *firefoxWindow) inject(source string) error {
	_, err := f.evaluate(source + "\n;0")
	return err
}

func (f *firefoxWindow) files(selector string, paths []string) error {
	e, err := f.evaluate(fmt.Sprintf("document.querySelector(%q)", selector))
	if err != nil {
		return err
	}
	_, err = f.call("input.setFiles", map[string]any{"context": f.context, "element": map[string]any{"sharedId": e.Result.SharedID}, "files": paths})
	return err
}

// size leaves the colours as they are: Firefox takes them from its profile.
func (f *firefoxWindow) size(wide, high int, _ string) error {
	_, err := f.call("browsingContext.setViewport", map[string]any{"context": f.context, "viewport": map[string]any{"width": wide, "height": high}})
	return err
}

func (f *firefoxWindow) picture() ([]byte, error) {
	result, err := f.call("browsingContext.captureScreenshot", map[string]any{"context": f.context})
	if err != nil {
		return nil, err
	}
	var shot struct{ Data string }
	if err := json.Unmarshal(result, &shot); err != nil {
		return nil, err
	}
	return base64.StdEncoding.DecodeString(shot.Data)
}

func (f *firefoxWindow) key(name string) error {
	value := map[string]string{"Enter": "\ue007", "Escape": "\ue00c", "ArrowLeft": "\ue012", "ArrowUp": "\ue013", "ArrowRight": "\ue014", "ArrowDown": "\ue015"}[name]
	if value == "" {
		value = name
	}
	_, err := f.call("input.performActions", map[string]any{"context": f.context, "actions": []any{map[string]any{"type": "key", "id": "keys",
		"actions": []any{map[string]any{"type": "keyDown", "value": value}, map[string]any{"type": "keyUp", "value": value}}}}})
	return err
}

// lanProxy passes on what is asked of lanNumber to this computer, and returns where it listens. Firefox has no rule for numbers, but asks
// a proxy for everything.
func lanProxy(t *testing.T) string {
	t.Helper()
	here := func(host string) string { return strings.Replace(host, lanNumber, "127.0.0.1", 1) }
	pass := &httputil.ReverseProxy{
		Rewrite: func(r *httputil.ProxyRequest) {
			r.Out.URL.Host = here(r.In.Host)
			r.Out.Host = r.In.Host
		},
		ErrorHandler: func(w http.ResponseWriter, _ *http.Request, _ error) { panic(http.ErrAbortHandler) }, // as a connection that breaks
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	server := &http.Server{Handler: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !strings.HasPrefix(r.Host, lanNumber) && !strings.HasPrefix(r.Host, "127.0.0.1") {
			panic(http.ErrAbortHandler) // the browser's own calls home
		}
		if r.Method != http.MethodConnect {
			pass.ServeHTTP(w, r)
			return
		}
		there, err := net.Dial("tcp", here(r.Host))
		if err != nil {
			panic(http.ErrAbortHandler)
		}
		w.WriteHeader(http.StatusOK)
		conn, rest, err := http.NewResponseController(w).Hijack()
		if err != nil {
			there.Close()
			return
		}
		go func() { io.Copy(there, rest); there.Close() }()
		io.Copy(conn, there)
		conn.Close()
	})}
	go server.Serve(listener)
	t.Cleanup(func() { server.Close() })
	return listener.Addr().String()
}

// ——— what tests do with a window

// open opens an address.
func (w window) open(url string) {
	w.t.Helper()
	if err := w.engine.open(url); err != nil {
		w.t.Fatalf("%s: %s: %v", w.name, url, err)
	}
}

// eval runs a script and returns what it gives.
func eval[T any](w window, script string) (value T) {
	w.t.Helper()
	got, err := w.engine.eval(script)
	if err == nil {
		err = json.Unmarshal(got, &value)
	}
	if err != nil {
		w.t.Fatalf("%s: %v, of %s", w.name, err, script)
	}
	return value
}

// phoneSize makes the window a phone's.
func (w window) phoneSize() { w.size(390, 844, "light") }

func (w window) size(wide, high int, scheme string) {
	w.t.Helper()
	if err := w.engine.size(wide, high, scheme); err != nil {
		w.t.Fatalf("%s: %v", w.name, err)
	}
}

// until waits for a script to give true.
func (w window) until(script string) (came bool) {
	w.t.Helper()
	for end := time.Now().Add(40 * time.Second); time.Now().Before(end); time.Sleep(40 * time.Millisecond) {
		if got, err := w.engine.eval(script); err == nil && string(got) == "true" { // a page that is being left answers nothing
			return true
		}
	}
	return false
}

// says waits until the element shows the words.
func (w window) says(selector, words string) {
	w.t.Helper()
	if !w.until(fmt.Sprintf(`(document.querySelector(%q)?.innerText ?? "").includes(%q)`, selector, words)) {
		w.shot("failed")
		w.t.Fatalf("%s: %s never says %q; it says %q", w.name, selector, words, eval[string](w, fmt.Sprintf(`document.querySelector(%q)?.innerText ?? "nothing: it is not there"`, selector)))
	}
}

// silent fails if the element shows the words.
func (w window) silent(selector, words string) {
	w.t.Helper()
	if text := eval[string](w, fmt.Sprintf(`document.querySelector(%q)?.innerText ?? ""`, selector)); strings.Contains(text, words) {
		w.shot("failed")
		w.t.Errorf("%s: %s says %q", w.name, selector, text)
	}
}

// press presses the button or link, inside the first element that selector finds, which shows the words.
func (w window) press(selector, words string) {
	w.t.Helper()
	if !w.until(fmt.Sprintf(`(() => { const all = [...document.querySelectorAll(%q)].flatMap(e => e.matches("button, a, summary") ? [e] : [...e.querySelectorAll("button, a, summary")]);
		const hit = all.find(e => (e.innerText + " " + (e.ariaLabel ?? "")).includes(%q) && !e.disabled && e.getClientRects().length > 0); hit?.click(); return hit !== undefined; })()`, selector, words)) {
		w.shot("failed")
		w.t.Fatalf("%s: no button %q in %s, which says %q", w.name, words, selector, eval[string](w, fmt.Sprintf(`document.querySelector(%q)?.innerText ?? "nothing"`, selector)))
	}
}

// write puts words into a field.
func (w window) write(selector, words string) {
	w.t.Helper()
	script := fmt.Sprintf(`(() => { const f = document.querySelector(%q); if (f === null) { return false; } f.value = %q; f.dispatchEvent(new Event("input", {bubbles: true})); f.dispatchEvent(new Event("change", {bubbles: true})); return true; })()`, selector, words)
	if !w.until(script) {
		w.shot("failed")
		w.t.Fatalf("%s: there is no field %s", w.name, selector)
	}
}

func (w window) press1(key string) {
	w.t.Helper()
	if err := w.engine.key(key); err != nil {
		w.t.Fatalf("%s: %v", w.name, err)
	}
}

// holds waits until the phone's own database has so many photos and feedings, which then outlast the page.
func (w window) holds(n int) {
	w.t.Helper()
	if !w.until(fmt.Sprintf(`import("/static/keep.js").then(k => k.all()).then(all => all.length === %d)`, n)) {
		w.t.Fatalf("%s: the phone does not hold %d things", w.name, n)
	}
}

// photograph presses what asks for a photo and gives the camera's.
func (w window) photograph(selector, words, file string) {
	w.t.Helper()
	w.choose("#camera", func() { w.press(selector, words) }, file)
}

// choose gives files to a field that would open a window for choosing them.
func (w window) choose(field string, press func(), files ...string) {
	w.t.Helper()
	if !w.until(fmt.Sprintf(`(() => { const f = document.querySelector(%q); if (f === null) { return false; } f.onclick = (e) => e.preventDefault(); return true; })()`, field)) {
		w.t.Fatalf("%s: there is no %s", w.name, field)
	}
	press()
	if err := w.engine.files(field, files); err != nil {
		w.shot("failed")
		w.t.Fatalf("%s: %v", w.name, err)
	}
}

// shot keeps a picture of the page, if someone wants to look at it.
func (w window) shot(name string) {
	w.t.Helper()
	if *shots == "" {
		return
	}
	picture, err := w.engine.picture()
	if err != nil {
		w.t.Log(err)
		return
	}
	if err := os.WriteFile(filepath.Join(*shots, w.name+"-"+name+".png"), picture, 0o644); err != nil {
		w.t.Fatal(err)
	}
}

// looks takes pictures of a state at one width in both colours, and fails where anything is wider than the window or where axe-core finds
// something.
func (w window) looks(name string, wide, high int) {
	w.t.Helper()
	for _, scheme := range []string{"dark", "light"} {
		w.size(wide, high, scheme)
		if too := eval[string](w, `(() => { const wide = document.documentElement.scrollWidth; return wide > innerWidth ? wide + " px in " + innerWidth : ""; })()`); too != "" {
			w.t.Errorf("%s: the page is wider than its window: %s", name, too)
		}
		w.accessible(fmt.Sprintf("%s, %d px, %s", name, wide, scheme))
		w.shot(fmt.Sprintf("%s-%d-%s", name, wide, scheme))
	}
}

// looksOnPhone is looks at a phone's size, where in addition every button has to be large enough for a wet thumb.
func (w window) looksOnPhone(name string) {
	w.t.Helper()
	w.looks(name, 390, 844)
	small := eval[[]string](w, `[...document.querySelectorAll("button, summary, select, input:not(.unseen), a.button")].filter(e => e.getClientRects().length > 0 && e.getBoundingClientRect().height < 48)
		.map(e => e.outerHTML.slice(0, 120) + " is " + e.getBoundingClientRect().height + " px high")`)
	if len(small) > 0 {
		w.t.Errorf("%s: less than 48 px: %s", name, strings.Join(small, "; "))
	}
}

var axe = sync.OnceValue(func() string {
	source, err := os.ReadFile(filepath.Join("..", "..", ".ci", "axe", "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		return ""
	}
	return string(bytes.TrimSpace(source))
})

// accessible looks for what axe-core's rules find wrong, where .ci/setup installed it.
func (w window) accessible(where string) {
	w.t.Helper()
	if axe() == "" {
		w.t.Log("axe-core is not installed (.ci/setup test installs it with npm): accessibility is not checked")
		return
	}
	if eval[bool](w, `window.axe === undefined`) {
		if err := w.engine.inject(axe()); err != nil {
			w.t.Fatal(err)
		}
	}
	for _, found := range eval[[]string](w, `axe.run(document, {resultTypes: ["violations"]}).then(r => r.violations.map(v =>
		v.id + ": " + v.help + ": " + v.nodes.length + " times, as in " + v.nodes[0].html.slice(0, 200) + " " + (v.nodes[0].failureSummary ?? "").slice(0, 300)))`) {
		w.t.Errorf("%s: %s", where, found)
	}
}

func writeFile(t *testing.T, path string, content []byte) {
	t.Helper()
	if err := os.WriteFile(path, content, 0o644); err != nil {
		t.Fatal(err)
	}
}

// hashes holds the page's SHA-256 against Go's, at all lengths around its blocks and its parts. Byte i is 7·i modulo 256.
func (w window) hashes() {
	w.t.Helper()
	var lengths []int
	for n := range 130 {
		lengths = append(lengths, n)
	}
	lengths = append(lengths, 1<<20-1, 1<<20, 1<<20+57, 8<<20)
	got := eval[[]string](w, fmt.Sprintf(`import("/static/sha256.js").then(m => Promise.all(%s.map(n => m.digestOf(new Blob([Uint8Array.from({length: n}, (_, i) => 7 * i)])))))`,
		strings.ReplaceAll(fmt.Sprint(lengths), " ", ",")))
	for i, n := range lengths {
		raw := make([]byte, n)
		for at := range raw {
			raw[at] = byte(7 * at)
		}
		if want := shaOf(raw); i >= len(got) || got[i] != want {
			w.t.Fatalf("%d bytes: another digest than %s", n, want)
		}
	}
}
