// What the program that starts a plugin expects of it, in the order it happens.
// A plugin in Go gets all of this from canewright's plugins/sdk; in another
// language this file is all there is to it.
"use strict";

const fs = require("node:fs");
const path = require("node:path");
const { randomBytes } = require("node:crypto");
const grpc = require("@grpc/grpc-js");
const certificate = require("./certificate");

const framing = 1; // of the handshake line itself
const wire = 1; // of dimset.proto

const parent = process.ppid; // whoever started us: asked now, before it can be gone

// serve calls add with the server, to be given its services, and then serves
// until it is told that it is enough, or nobody is left to tell it.
async function serve(add) {
  // 1. Started by canewright, or by a person who found the file?
  if (process.env.CANEWRIGHT_PLUGIN !== "dimension-sets") {
    fail("this program answers canewright and cannot be used by hand");
  }
  // 2. Do we speak one wire? The host lists those it knows: "1,2".
  if (!(process.env.PLUGIN_PROTOCOL_VERSIONS || "1").split(",").map(Number).includes(wire)) {
    // Go on all the same: the host sees the number and says what to update.
    console.error(`this plugin speaks wire ${wire}`);
  }

  // 3. The three calls, and two more that are asked of every plugin.
  const server = new grpc.Server();
  add(server);
  server.addService(health, { Check: (call, answer) => answer(null, SERVING) });
  server.addService(controller, { Shutdown: (call, answer) => (answer(null, EMPTY), leave()) });

  // 4. A place to listen where only this user comes in, and a certificate for
  // this one start. The host's own is the only one that is let in.
  const address = listenAt();
  const hosts = process.env.PLUGIN_CLIENT_CERT;
  if (!hosts) fail("PLUGIN_CLIENT_CERT is not set: nobody could be told from the host");
  const own = certificate.make();
  const credentials = grpc.ServerCredentials.createSsl(
    Buffer.from(hosts), // trusted …
    [{ private_key: Buffer.from(own.key), cert_chain: Buffer.from(own.certificate) }],
    true, // … and asked for
  );
  const port = await new Promise((done) => {
    server.bindAsync(address.bind, credentials, (err, port) => (err ? fail(`listen: ${err.message}`) : done(port)));
  });

  // 5. The one line on the standard output. The last part is our certificate:
  // that is how the host knows whom it talks to.
  const der = own.der.toString("base64").replace(/=+$/, ""); // without padding
  const line = [framing, wire, address.network, address.text(port), "grpc", der].join("|");
  process.stdout.write(line + "\n");

  // 6. Do not stay behind.
  watchParent();
}

function fail(why) {
  console.error("serve an instrument: " + why);
  process.exit(1);
}

let socket = ""; // removed when we leave

function listenAt() {
  const dir = process.env.PLUGIN_UNIX_SOCKET_DIR;
  if (process.platform === "win32" || !dir) {
    return { network: "tcp", bind: "127.0.0.1:0", text: (port) => "127.0.0.1:" + port };
  }
  // A path to a socket has at most about 100 bytes, so the name is short.
  socket = path.join(dir, "js" + randomBytes(4).toString("hex"));
  return { network: "unix", bind: "unix:" + socket, text: () => socket };
}

function leave() {
  // The answer to Shutdown is still on its way out.
  setTimeout(() => {
    if (socket) fs.rmSync(socket, { force: true });
    process.exit(0);
  }, 20);
}

// The host may be killed without a word. A plugin has no standard input to see
// that by; it looks for its parent. Where a parent goes, its children get
// another; on Windows they keep the number, and nobody answers to it.
function watchParent() {
  const look = () => {
    try {
      process.kill(parent, 0); // asks, and ends nobody
    } catch (err) {
      if (err.code === "ESRCH") return leave();
    }
    if (process.ppid !== parent) leave();
  };
  setInterval(look, 200);
}

// The two services below have messages so small that their bytes are written
// out here. EMPTY is a message with nothing in it; SERVING is
// HealthCheckResponse{status: SERVING}: field 1, a varint, the number 1.
const EMPTY = Buffer.alloc(0);
const SERVING = Buffer.from([0x08, 0x01]);

function unary(path) {
  const asIs = (bytes) => bytes;
  return {
    path, requestStream: false, responseStream: false,
    requestSerialize: asIs, requestDeserialize: asIs, responseSerialize: asIs, responseDeserialize: asIs,
  };
}

// grpc.health.v1.Health, of the gRPC health checking protocol.
const health = { Check: unary("/grpc.health.v1.Health/Check") };

// Asked to stop. A plugin without it is ended after a moment instead.
const controller = { Shutdown: unary("/plugin.GRPCController/Shutdown") };

module.exports = { serve, wire };
