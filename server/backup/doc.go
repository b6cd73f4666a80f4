// Package backup writes a whole book into one file while the book is in use, and makes a book of such a file.
//
//	"stillroom backup 1\n"
//	uvarint length, then as many bytes of JSON: about (below)
//	for each stream in about's order, for each number from 1: uvarint length, then the envelope's bytes
//	32 bytes: SHA-256 of everything before
//
// about holds when it was made, the epoch, the key of the store's marks, the table of devices as it lies in the folder,
// and each stream's name, head and running hash. The key proves what phones hand back after a restore: keep the file
// where only you can read it.
//
// A full backup is followed by small ones, which hold only what came after it:
//
//	"stillroom added 1\n", then as above; each stream's numbers begin behind the end of its base
//
// and about names the base by the SHA-256 of the file as well as by its name, and after, the base's own streams. So a small one
// goes on from a head with its running hash, is proved by that and by the sum, and stands on one file alone; the full one is
// found by its sum when its name is another. After six small ones, in another life of the book, and where the full one is not
// whole any more, the next is a full one.
//
// A backup counts only after it and its base were read again, made into a book in a folder of its own, and compared. Photos lie beside
// the backups in the book's own folder photos-MARK, each once, under the name of their content. They are compared with it
// as they are copied and as they are restored, and in between a few at every backup.
//
// A file is named stillroom-MARK-DATE-TIME-MS.backup, a small one .added, in UTC, with the mark of its book (Mark), so that several books may
// share a folder. What has another name is never counted and never removed.
package backup
