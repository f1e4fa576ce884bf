package store

// For the tests of package store_test, which may use storetest.
var (
	Connect   = connect
	OpenWith  = openWith
	CloudName = cloudName
)

// What a connection of Connect is for.
const (
	Live   = live
	Frozen = frozen
)

// Names in a folder.
const (
	DBName    = dbName
	OpenMark  = openMark
	LockName  = lockName
	CopiesDir = copiesDir
	Temp      = tempPrefix
)

// Dir is the folder.
func (s *Store) Dir() string { return s.dir }
