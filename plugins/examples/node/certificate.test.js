"use strict";

const test = require("node:test");
const assert = require("node:assert");
const { X509Certificate } = require("node:crypto");
const { make } = require("./certificate");

// OpenSSL, inside Node, is the judge of the bytes.
test("the certificate is one, for localhost, signed by itself", () => {
  const now = Date.UTC(2031, 4, 6, 7, 8, 9);
  const made = make(now);
  for (const c of [new X509Certificate(made.certificate), new X509Certificate(made.der)]) {
    assert.equal(c.subject, "CN=localhost");
    assert.equal(c.issuer, "CN=localhost");
    assert.equal(c.subjectAltName, "DNS:localhost");
    assert.ok(c.ca);
    assert.ok(c.verify(c.publicKey));
    assert.equal(Date.parse(c.validFrom), now - 3600e3);
    assert.equal(Date.parse(c.validTo), now + 24 * 3600e3);
    assert.deepEqual(c.keyUsage, ["1.3.6.1.5.5.7.3.2", "1.3.6.1.5.5.7.3.1"]);
  }
});

test("no two are alike", () => {
  assert.notEqual(new X509Certificate(make().der).serialNumber, new X509Certificate(make().der).serialNumber);
});
