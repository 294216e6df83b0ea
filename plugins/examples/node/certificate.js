// A certificate for one start of the plugin: self-signed, for the name
// "localhost", on the curve P-256. Node can make keys and sign, but not write
// certificates, so the bytes (DER, ITU-T X.690) are put together here; what
// stands in them is RFC 5280. A package or the openssl program would do as
// well, and would be one more thing to install.
"use strict";

const crypto = require("node:crypto");

// DER is nested parcels: a tag, the length, the contents.
function parcel(tag, ...contents) {
  const body = Buffer.concat(contents);
  if (body.length < 128) return Buffer.concat([Buffer.from([tag, body.length]), body]);
  const length = [];
  for (let n = body.length; n > 0; n >>= 8) length.unshift(n & 0xff);
  return Buffer.concat([Buffer.from([tag, 0x80 | length.length, ...length]), body]);
}

const sequence = (...parts) => parcel(0x30, ...parts);
const set = (...parts) => parcel(0x31, ...parts);
const octets = (bytes) => parcel(0x04, bytes);
const bits = (bytes, unused = 0) => parcel(0x03, Buffer.from([unused]), bytes);
const number = (bytes) => parcel(0x02, bytes); // big-endian, first bit 0: not negative
const text = (s) => parcel(0x0c, Buffer.from(s, "utf8"));
const object = (hex) => parcel(0x06, Buffer.from(hex, "hex"));
const yes = parcel(0x01, Buffer.from([0xff]));
// UTCTime, YYMMDDHHMMSSZ: right until 2049.
const time = (d) => parcel(0x17, Buffer.from(d.toISOString().replace(/[-:T]|\.\d+/g, "").slice(2)));

const ecdsaWithSha256 = object("2a8648ce3d040302"); // 1.2.840.10045.4.3.2, RFC 5758
const commonName = object("550403"); // 2.5.4.3
const keyUsage = object("551d0f"); // 2.5.29.15
const alternativeName = object("551d11"); // 2.5.29.17
const basicConstraints = object("551d13"); // 2.5.29.19
const extendedUsage = object("551d25"); // 2.5.29.37
const serverAuth = object("2b06010505070301"); // 1.3.6.1.5.5.7.3.1
const clientAuth = object("2b06010505070302"); // 1.3.6.1.5.5.7.3.2

const name = "localhost"; // what both ends call themselves
const hour = 3600e3; // ms

// make returns the key and the certificate as PEM, and the certificate's DER.
function make(now = Date.now()) {
  const { publicKey, privateKey } = crypto.generateKeyPairSync("ec", { namedCurve: "P-256" });
  const serial = crypto.randomBytes(16);
  serial[0] = (serial[0] & 0x7f) | 0x40; // positive, and never with a leading zero byte
  const who = sequence(set(sequence(commonName, text(name))));
  const algorithm = sequence(ecdsaWithSha256);
  const extensions = sequence(
    // digitalSignature and keyCertSign: bits 0 and 5 of 6, so two are unused.
    sequence(keyUsage, yes, octets(bits(Buffer.from([0b10000100]), 2))),
    sequence(extendedUsage, octets(sequence(clientAuth, serverAuth))),
    sequence(basicConstraints, yes, octets(sequence(yes))), // its own issuer
    sequence(alternativeName, octets(sequence(parcel(0x82, Buffer.from(name))))), // a DNS name
  );
  const body = sequence(
    parcel(0xa0, number(Buffer.from([2]))), // version 3 is written 2
    number(serial),
    algorithm,
    who, // the issuer
    sequence(time(new Date(now - hour)), time(new Date(now + 24 * hour))), // a plugin lives for a moment
    who, // the subject
    publicKey.export({ type: "spki", format: "der" }),
    parcel(0xa3, extensions),
  );
  const der = sequence(body, algorithm, bits(crypto.sign("sha256", body, privateKey)));
  return {
    key: privateKey.export({ type: "pkcs8", format: "pem" }),
    certificate: `-----BEGIN CERTIFICATE-----\n${der.toString("base64").replace(/.{64}(?=.)/g, "$&\n")}\n-----END CERTIFICATE-----\n`,
    der,
  };
}

module.exports = { make };
