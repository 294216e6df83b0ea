#!/bin/sh
# Writes the Go code of dimset/v1 anew, and the copy an example in another
# language keeps of the contract. Needs protoc; its two plugins are tool
# lines of go.mod.
set -eu
cd "$(dirname "$0")"
bin=$(mktemp -d)
trap 'rm -rf "$bin"' EXIT
for tool in protoc-gen-go protoc-gen-go-grpc; do
	printf '#!/bin/sh\nexec go tool %s\n' "$tool" >"$bin/$tool"
	chmod +x "$bin/$tool"
done
protoc --plugin="$bin/protoc-gen-go" --plugin="$bin/protoc-gen-go-grpc" \
	--go_out=. --go_opt=paths=source_relative \
	--go-grpc_out=. --go-grpc_opt=paths=source_relative \
	dimset/v1/dimset.proto
cp dimset/v1/dimset.proto ../examples/node/dimset.proto
