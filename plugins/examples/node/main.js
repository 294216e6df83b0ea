#!/usr/bin/env node
// An instrument for canewright in JavaScript. The instrument is invented, and
// so is every number: the program is here to show what a plugin must do, in
// whatever language it is written.
//
//   fenpipe.js      the instrument: plain data. Begin here with your own.
//   main.js         this file: the three calls, and serving them
//   handshake.js    what the program that starts a plugin expects of it
//   certificate.js  a certificate for one start
//   onefile.js      writes all of it as one file, to be added to canewright
//
// The contract is one file, dimset.proto, here a copy of the one in
// plugins/proto. It is read when the program starts, so no code is generated.
"use strict";

// The first line on the standard output must be the handshake. What anybody
// prints from here on goes to the standard error, which the player can read.
console.log = console.info = console.debug = console.error;

const path = require("node:path");
const grpc = require("@grpc/grpc-js");
const protoLoader = require("@grpc/proto-loader");
const fenpipe = require("./fenpipe");
const handshake = require("./handshake");

// A plugin brings its copy of the contract along. A later one may have more in
// it; nothing that is in this one will ever mean something else. Where all is
// one file, onefile.js has put it into the place of CONTRACT.
function contract() {
  const how = {
    keepCase: true, // names as they stand in the file
    enums: String, // and the words of enums
  };
  const definition =
    typeof CONTRACT === "undefined"
      ? protoLoader.loadSync(path.join(__dirname, "dimset.proto"), how)
      : protoLoader.fromJSON(CONTRACT, how);
  return grpc.loadPackageDefinition(definition).canewright.dimset.v1;
}

// The answers never change, so they are made once. Whatever else a request
// holds, fields and capabilities of later days among it, is not looked at: that
// is how a plugin stays usable.
const calls = {
  Describe(call, answer) {
    answer(null, {
      id: fenpipe.id,
      plugin_version: require("./package.json").version,
      sdk_version: "none: JavaScript and dimset.proto",
      contact: "nobody: an example",
      wire: handshake.wire,
    });
  },

  List(call, answer) {
    const { id, major, minor, title } = fenpipe;
    answer(null, { sets: [{ id, major, minor, title }] });
  },

  Get(call, answer) {
    const { id, major } = call.request;
    if (id === fenpipe.id && major === fenpipe.major) {
      answer(null, { set: fenpipe });
      return;
    }
    // Not found, and not an empty answer: canewright then asks which versions
    // there are, and tells the player which side is the older one.
    answer({ code: grpc.status.NOT_FOUND, details: `no dimension set ${id} ${major} here` });
  },
};

handshake.serve((server) => server.addService(contract().DimensionSets.service, calls));
