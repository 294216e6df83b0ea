package proto_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"

	"google.golang.org/protobuf/encoding/prototext"
	gproto "google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protodesc"
	"google.golang.org/protobuf/types/descriptorpb"

	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// The text form puts one or two blanks after a colon, at random on purpose.
var blanks = regexp.MustCompile(`(?m)^(\s*\w+):\s+`)

func text(t *testing.T, d *descriptorpb.FileDescriptorProto) []byte {
	t.Helper()
	b, err := prototext.MarshalOptions{Multiline: true}.Marshal(d)
	if err != nil {
		t.Fatal(err)
	}
	return blanks.ReplaceAll(b, []byte("$1: "))
}

func TestAnyChangeOfTheWireIsVisible(t *testing.T) {
	t.Parallel()
	golden := filepath.Join("..", "..", "testdata", "golden", "dimset_v1.txt")
	got := text(t, protodesc.ToFileDescriptorProto(dimsetv1.File_dimset_v1_dimset_proto))
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(golden, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("the wire differs from %s; if that is meant, run with UPDATE=1 and read the difference\n%s", golden, got)
	}
}

func TestGeneratedCodeIsOfThisProtoFile(t *testing.T) {
	t.Parallel()
	protoc, err := exec.LookPath("protoc")
	if err != nil {
		t.Skip("protoc is not installed")
	}
	out := filepath.Join(t.TempDir(), "set")
	if msg, err := exec.Command(protoc, "--descriptor_set_out="+out, "dimset/v1/dimset.proto").CombinedOutput(); err != nil {
		t.Fatalf("protoc: %v\n%s", err, msg)
	}
	b, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	var set descriptorpb.FileDescriptorSet
	if err := gproto.Unmarshal(b, &set); err != nil {
		t.Fatal(err)
	}
	if len(set.File) != 1 {
		t.Fatalf("protoc wrote %d files, want 1", len(set.File))
	}
	for _, m := range set.File[0].MessageType {
		forgetJSON(m)
	}
	want := text(t, set.File[0])
	have := protodesc.ToFileDescriptorProto(dimsetv1.File_dimset_v1_dimset_proto)
	for _, m := range have.MessageType {
		forgetJSON(m)
	}
	if got := text(t, have); !bytes.Equal(got, want) {
		t.Errorf("run go generate ./plugins/proto: the code was generated from another dimset.proto\ngot  %s\nwant %s", got, want)
	}
}

// forgetJSON drops the JSON names: protoc derives them and leaves them out of
// a descriptor it embeds.
func forgetJSON(m *descriptorpb.DescriptorProto) {
	for _, f := range m.Field {
		f.JsonName = nil
	}
}

func TestNoDimensionIsAFloatOnTheWire(t *testing.T) {
	t.Parallel()
	messages := dimsetv1.File_dimset_v1_dimset_proto.Messages()
	for i := range messages.Len() {
		fields := messages.Get(i).Fields()
		for j := range fields.Len() {
			if k := fields.Get(j).Kind().String(); k == "float" || k == "double" {
				t.Errorf("%s is a %s", fields.Get(j).FullName(), k)
			}
		}
	}
}

func TestAbsentAndZeroLimitsDiffer(t *testing.T) {
	t.Parallel()
	b, err := gproto.Marshal(&dimsetv1.Tolerance{Low: gproto.Int64(0)})
	if err != nil {
		t.Fatal(err)
	}
	var back dimsetv1.Tolerance
	if err := gproto.Unmarshal(b, &back); err != nil {
		t.Fatal(err)
	}
	if back.Low == nil || *back.Low != 0 || back.High != nil {
		t.Errorf("got low %v and high %v, want a zero and nothing", back.Low, back.High)
	}
}
