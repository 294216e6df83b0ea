// Writes the plugin as one file, dist/fenpipe or where you say, with its packages
// and the contract in it: canewright keeps a copy of one file, and a checksum of it, and runs the
// copy, beside which nothing else lies. Node itself is not in it.
"use strict";

const fs = require("node:fs");
const path = require("node:path");
const esbuild = require("esbuild");
const protobuf = require("protobufjs");

// The names as they stand in the file, as main.js wants them.
const contract = new protobuf.Root().loadSync(path.join(__dirname, "dimset.proto"), { keepCase: true }).toJSON();
const to = path.resolve(process.argv[2] || path.join(__dirname, "dist", "fenpipe"));
esbuild.buildSync({
  entryPoints: [path.join(__dirname, "main.js")], // its first line comes along
  outfile: to,
  bundle: true,
  platform: "node",
  target: "node18",
  legalComments: "inline", // the licences of the packages
  define: { CONTRACT: JSON.stringify(contract) },
});
fs.chmodSync(to, 0o755);
console.log(`wrote ${path.relative(process.cwd(), to)}, ${fs.statSync(to).size} bytes`);
