// Package blob keeps whole files in the shop's folder, each under the
// SHA-256 of its content: recordings that are kept with a clock, photographs.
//
// They lie in files/, named by 64 hexadecimal digits, mode 0600. A file is
// written under another name in the same folder, brought to the disk, given
// its name, and the folder brought to the disk; when [Held.Keep] has returned
// nil it survives a power cut. A record may therefore name it afterwards and
// never the other way round. The same content is kept once. What a name says
// is checked against the content by [Files.Check].
//
// What comes in is first held ([Files.Hold]): it can be read as often as
// wanted, kept, or let go. [Files.Grow] is the same for what comes in pieces.
// What was held when the program was stopped is taken away at the next start.
// A kept file that is damaged is put right when the same content comes again.
//
// Limits: the size is the caller's to bound. A file is served only by its
// sum, never by a name that someone typed. There is no removal: a record
// that is marked removed still has its file. A backup (store.Backup) takes
// along the files that the records name; [Files.Lay] puts them back.
package blob
