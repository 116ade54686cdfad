package store

// sightings are the rows of a file that were there just so: nothing that the
// file wrote shows that it had them. They cost twelve bytes each for as long as
// a file's keys ascend, for then none can come again and nobody asks.
type sightings struct {
	latest  []sighted        // in the order of the file
	indexed map[uint64]int32 // once somebody has asked
}

// sighted is a stretch of sightings: hashes of keys, and row numbers.
type sighted struct {
	keys []uint64
	rows []int32
}

// hashOf is a 64-bit hash of a key; two keys of a file will not share one.
func hashOf(key string) uint64 { return stirText(0, key) }

func (s *sightings) note(key string, row int) {
	if s.indexed != nil {
		s.indexed[hashOf(key)] = int32(row)
		return
	}
	last := len(s.latest) - 1
	if last < 0 || len(s.latest[last].keys) == chunkRows {
		s.latest = append(s.latest, sighted{make([]uint64, 0, chunkRows), make([]int32, 0, chunkRows)})
		last++
	}
	l := &s.latest[last]
	l.keys, l.rows = append(l.keys, hashOf(key)), append(l.rows, int32(row))
}

// find is the number of the row that had the key.
func (s *sightings) find(key string) (row int, ok bool) {
	if s.indexed == nil {
		s.index()
	}
	found, ok := s.indexed[hashOf(key)]
	return int(found), ok
}

func (s *sightings) index() {
	s.indexed = make(map[uint64]int32, len(s.latest)*chunkRows)
	for _, l := range s.latest {
		for i, k := range l.keys {
			s.indexed[k] = l.rows[i]
		}
	}
	s.latest = nil
}
