package client

import (
	"bufio"
	"bytes"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/base64"
	"encoding/json"
	"encoding/pem"
	"math/big"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

const top = "../.."

// programs builds both once; what comes back ends the building's failure.
var programs = sync.OnceValues(func() (dir string, err error) {
	if dir, err = os.MkdirTemp("", "cw-client-"); err != nil {
		return "", err
	}
	for _, args := range [][]string{
		{"build", "-C", top, "-o", filepath.Join(dir, "canewright"), "./cmd/canewright"},
		{"build", "-o", filepath.Join(dir, "grpcurl"), "github.com/fullstorydev/grpcurl/cmd/grpcurl"},
	} {
		if out, err := exec.Command("go", args...).CombinedOutput(); err != nil {
			_, _ = os.Stderr.Write(out)
			return dir, err
		}
	}
	return dir, nil
})

func TestMain(m *testing.M) {
	code := m.Run()
	if dir, _ := programs(); dir != "" {
		_ = os.RemoveAll(dir)
	}
	os.Exit(code)
}

// client is grpcurl, let in by one running plugin.
type client struct {
	exe     string
	flags   []string
	address string
}

// start does what a host does, by the contract's own words in plugins/proto: it
// makes a certificate, starts the plugin with it, and takes the plugin's from
// the handshake. Nothing is switched off for the test.
func start(t *testing.T, instrument string) client {
	t.Helper()
	bin, err := programs()
	if err != nil {
		t.Fatalf("build canewright and grpcurl: %v", err)
	}
	// Short: a path to a socket has at most about a hundred bytes.
	dir, err := os.MkdirTemp("", "cw")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	certificate, key := identity(t)
	save := func(name string, b []byte) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	plugin := exec.Command(filepath.Join(bin, "canewright"), "serve-instrument", instrument)
	plugin.Env = []string{
		"CANEWRIGHT_PLUGIN=dimension-sets", "PLUGIN_PROTOCOL_VERSIONS=1",
		"PLUGIN_CLIENT_CERT=" + string(certificate), "PLUGIN_UNIX_SOCKET_DIR=" + dir,
	}
	var errs bytes.Buffer
	plugin.Stderr = &errs
	out, err := plugin.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := plugin.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		_ = plugin.Process.Kill()
		_ = plugin.Wait()
	})
	line, err := bufio.NewReader(out).ReadString('\n')
	parts := strings.Split(strings.TrimSpace(line), "|")
	if err != nil || len(parts) < 6 || parts[0] != "1" || parts[1] != "1" || parts[2] != "unix" || parts[4] != "grpc" {
		t.Fatalf("the handshake is %q, %v\n%s", line, err, &errs)
	}
	der, err := base64.RawStdEncoding.DecodeString(parts[5])
	if err != nil {
		t.Fatalf("the plugin's certificate: %v", err)
	}
	return client{
		exe: filepath.Join(bin, "grpcurl"), address: parts[3],
		flags: []string{
			"-unix", "-authority", "localhost", "-max-time", "20",
			"-cacert", save("plugin.pem", pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der})),
			"-cert", save("own.pem", certificate), "-key", save("own.key", key),
		},
	}
}

func identity(t *testing.T) (certificate, key []byte) {
	t.Helper()
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	template := &x509.Certificate{
		Subject: pkix.Name{CommonName: "localhost"}, DNSNames: []string{"localhost"}, SerialNumber: big.NewInt(1),
		NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour),
		KeyUsage: x509.KeyUsageDigitalSignature | x509.KeyUsageCertSign, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageClientAuth},
		BasicConstraintsValid: true, IsCA: true,
	}
	der, err := x509.CreateCertificate(rand.Reader, template, template, private.Public(), private)
	if err != nil {
		t.Fatal(err)
	}
	secret, err := x509.MarshalPKCS8PrivateKey(private)
	if err != nil {
		t.Fatal(err)
	}
	return pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret})
}

func (c client) run(more []string, what ...string) (string, error) {
	args := append(append(slices.Clone(c.flags), more...), c.address)
	out, err := exec.Command(c.exe, append(args, what...)...).CombinedOutput()
	return string(out), err
}

// The contract's file, as it stands in the repository.
var byFile = []string{"-import-path", top + "/plugins/proto/dimset/v1", "-proto", "dimset.proto"}

func TestThePluginDescribesItself(t *testing.T) {
	t.Parallel()
	c := start(t, "bassoon")
	// Asked over the connection: the plugin's own account of its services.
	got, err := c.run(nil, "list")
	if err != nil || !slices.Contains(strings.Fields(got), "canewright.dimset.v1.DimensionSets") {
		t.Errorf("it lists %s, %v", got, err)
	}
	for _, what := range []string{"canewright.dimset.v1.DimensionSets", "canewright.dimset.v1.Dimension", "canewright.dimset.v1.Tolerance"} {
		served, err := c.run(nil, "describe", what)
		if err != nil {
			t.Fatalf("describe %s: %v\n%s", what, err, served)
		}
		written, err := c.run(byFile, "describe", what)
		if err != nil {
			t.Fatalf("describe %s by the file: %v\n%s", what, err, written)
		}
		if withoutComments(served) != withoutComments(written) {
			t.Errorf("the plugin describes\n%s\nthe file\n%s", served, written)
		}
	}
}

// withoutComments: the file has some, what is compiled has none.
func withoutComments(s string) string {
	var out []string
	for line := range strings.Lines(s) {
		if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "//") {
			out = append(out, line)
		}
	}
	return strings.Join(out, "\n")
}

// Called by the file alone, as an author in any language would.
func TestTheThreeCalls(t *testing.T) {
	t.Parallel()
	c := start(t, "bassoon")
	const service = "canewright.dimset.v1.DimensionSets/"

	var about struct {
		ID       string
		Wire     int
		Required []string `json:"requiredCapabilities"`
	}
	c.call(t, &about, `{"wires": [1], "capabilities": ["of-tomorrow"]}`, service+"Describe")
	if about.ID != "bassoon" || about.Wire != 1 || len(about.Required) > 0 {
		t.Errorf("it describes itself as %+v", about)
	}

	var list struct {
		Sets []struct {
			ID    string
			Major int
		}
	}
	c.call(t, &list, `{}`, service+"List")
	if len(list.Sets) != 1 || list.Sets[0].ID != "bassoon" || list.Sets[0].Major != 1 {
		t.Fatalf("it lists %+v", list)
	}

	var got struct {
		Set struct {
			ID         string
			Dimensions []struct {
				Name, Kind, Unit, Datum, Condition, Formula string
				Plausible                                   *struct{ Low, High string } // JSON has 64 bits as text
			}
		}
	}
	c.call(t, &got, `{"id": "bassoon", "major": 1}`, service+"Get")
	find := func(name string) int {
		for i, d := range got.Set.Dimensions {
			if d.Name == name {
				return i
			}
		}
		t.Fatalf("there is no %s", name)
		return -1
	}
	// 20 .. 33 mm in nanometres.
	d := got.Set.Dimensions[find("wire.first")]
	if d.Kind != "length" || d.Unit != "mm" || d.Datum != "the butt" || d.Condition != "CONDITION_EITHER" || d.Plausible == nil || d.Plausible.Low != "20000000" || d.Plausible.High != "33000000" {
		t.Errorf("the first wire is %+v, %+v", d, d.Plausible)
	}
	if d := got.Set.Dimensions[find("wire.gap")]; d.Formula != "wire.first - wire.second" || d.Plausible != nil && d.Plausible.Low == "" {
		t.Errorf("the gap is %+v", d)
	}

	out, err := c.run(append([]string{"-d", `{"id": "bassoon", "major": 9}`}, byFile...), service+"Get")
	if err == nil || !strings.Contains(out, "Code: NotFound") {
		t.Errorf("a version that is not there: %v\n%s", err, out)
	}
}

func (c client) call(t *testing.T, into any, request, method string) {
	t.Helper()
	out, err := c.run(append([]string{"-d", request}, byFile...), method)
	if err != nil {
		t.Fatalf("%s: %v\n%s", method, err, out)
	}
	if err := json.Unmarshal([]byte(out), into); err != nil {
		t.Fatalf("%s: %v\n%s", method, err, out)
	}
}

// Who has not the certificate that the plugin was given is not let in.
func TestAStrangerIsNotLetIn(t *testing.T) {
	t.Parallel()
	c := start(t, "oboe")
	certificate, key := identity(t)
	dir := t.TempDir()
	for i, f := range c.flags {
		for name, b := range map[string][]byte{"own.pem": certificate, "own.key": key} {
			if filepath.Base(f) == name {
				c.flags[i] = filepath.Join(dir, name)
				if err := os.WriteFile(c.flags[i], b, 0o600); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	if out, err := c.run(byFile, "canewright.dimset.v1.DimensionSets/List"); err == nil {
		t.Errorf("it answers %s", out)
	}
}
