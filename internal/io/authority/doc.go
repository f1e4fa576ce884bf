// Package authority is the shop's own certificate authority, with which a
// phone in the shop reaches the program by https.
//
// # The root
//
// A person has to trust the root by hand, and so it can do little: it may
// vouch only for the shop computer's own .local name, for localhost and for
// addresses of private networks (RFC 5280, 4.2.1.10, name constraints,
// critical), and for no other authority (path length 0). Whoever gets its key
// can pass for this computer in its own network and for nothing else. It
// lasts ten years.
//
// # Files
//
// The key lies in a folder of its own, apart from the records, for this user
// alone (folder 0700, file 0600), and is in no backup. A folder or file that
// others can read, or that belongs to somebody else, is refused; on Windows,
// where these modes do not exist, the folder of the user is relied upon.
//
//	root.key         the key, PKCS #8 in PEM
//	root.pem         the certificate
//	root-before.pem  the one before, after a change
//
// # The certificate of now
//
// What is shown to a phone is made at start and lives in memory alone: for 30
// days, dated 24 hours back for phones whose clock is behind, with the names
// and addresses of now in it. A new one is made, without a restart, when
// fewer than ten days are left and when the addresses or the name change.
package authority
