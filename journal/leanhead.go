package journal

// Reading by hand the few records that every process reads: the library's look at
// the types would cost it more than all its reading. What is not as it should be is
// left to the library, whose answer then counts.

func (h *headRecord) quick(body []byte) bool {
	r := cborReader{b: body}
	var v headRecord
	for n, last := r.fields(), int64(0); n > 0 && !r.bad; n-- {
		switch r.key(&last) {
		case 1:
			v.Seq = r.uint()
		case 2:
			r.fixed(v.Digest[:])
		case 3:
			r.fixed(v.LastID[:])
		case 4:
			v.LagMS = r.uint()
		case 5:
			n := r.fields()
			if r.bad || n > uint64(len(r.b)) {
				return false
			}
			v.Years = make(map[int]int, n)
			before := int64(-1)
			for ; n > 0 && !r.bad; n-- {
				year := int(r.key(&before))
				v.Years[year] = int(r.integer())
			}
		case 6:
			v.Batches = r.uint()
		case 7:
			v.Container = int(r.integer())
		case 8:
			v.Containers = r.uint()
		case 9:
			v.Moment = r.uint()
		default:
			return false
		}
	}
	if r.bad || len(r.b) > 0 {
		return false
	}
	*h = v
	return true
}

func (a *aboutRecord) quick(body []byte) bool {
	r := cborReader{b: body}
	var v aboutRecord
	for n, last := r.fields(), int64(0); n > 0 && !r.bad; n-- {
		switch r.key(&last) {
		case 1:
			v.Format = int(r.integer())
		case 2:
			r.fixed(v.Journal[:])
		case 3:
			v.Created = r.stamp()
		default:
			return false
		}
	}
	if r.bad || len(r.b) > 0 {
		return false
	}
	*a = v
	return true
}

func (b *blobRecord) quick(body []byte) bool {
	r := cborReader{b: body}
	var v blobRecord
	for n, last := r.fields(), int64(0); n > 0 && !r.bad; n-- {
		switch r.key(&last) {
		case 1:
			v.Length = int(r.integer())
		case 2:
			v.Packed = r.flag()
		case 3:
			v.Data = r.own()
		case 4:
			v.Lost = r.flag()
		default:
			return false
		}
	}
	if r.bad || len(r.b) > 0 {
		return false
	}
	*b = v
	return true
}

func (c *recipeContent) quick(body []byte) bool {
	r := cborReader{b: body}
	var v recipeContent
	for n, last := r.fields(), int64(0); n > 0 && !r.bad; n-- {
		switch r.key(&last) {
		case 1:
			v.Slug = r.text()
		case 2:
			v.Title = r.text()
		case 3:
			v.Kind = r.text()
		case 4:
			v.Revision = int(r.integer())
		case 5:
			v.Digest = r.text()
		case 6:
			v.Text = r.text()
		default:
			return false
		}
	}
	if r.bad || len(r.b) > 0 {
		return false
	}
	*c = v
	return true
}

// uint reads a whole number that is not below zero.
func (r *cborReader) uint() uint64 {
	major, n := r.head()
	r.bad = r.bad || major != 0
	return n
}
