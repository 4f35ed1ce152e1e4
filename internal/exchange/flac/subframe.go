package flac

import "math/bits"

const (
	// maxOrder is the highest of the fixed predictors.
	maxOrder = 4
	// maxPartition is how finely a block is parted at most: into 2⁶ parts.
	maxPartition = 6
	// maxRice is the largest Rice parameter; 31 means something else.
	maxRice = 30
)

// subframe is one channel of a block on its way into bits.
type subframe struct {
	x        []int64
	depth    uint // bits of a sample
	constant bool
	order    int
	residual []int64
	parts    int // exponent of the number of parts
	rice     [1 << maxPartition]uint
	bits     int // how many it takes, about
}

// plan chooses how to write a channel.
func (s *subframe) plan(x []int64, depth uint) {
	s.x, s.depth, s.constant = x, depth, true
	for _, v := range x {
		s.constant = s.constant && v == x[0]
	}
	if s.constant {
		s.bits = 8 + int(depth)
		return
	}
	s.predict()
	s.part()
}

// predict finds the predictor whose residual is smallest in sum. A predictor
// of order n takes the sample on the polynomial through the last n; the
// residual of order n is the difference of neighbours in that of order n−1.
func (s *subframe) predict() {
	n := len(s.x)
	now := append(s.residual[:0], s.x...)
	best, least := 0, uint64(1)<<63
	most := min(maxOrder, n-1)
	for order := 0; ; order++ {
		if sum := magnitude(now[order:]); sum < least {
			best, least = order, sum
		}
		if order == most {
			break
		}
		difference(now, order)
	}
	now = append(now[:0], s.x...)
	for order := range best {
		difference(now, order)
	}
	s.order, s.residual = best, now
}

// difference turns the residual of an order into that of the next.
func difference(x []int64, order int) {
	for i := len(x) - 1; i > order; i-- {
		x[i] -= x[i-1]
	}
}

func magnitude(x []int64) (sum uint64) {
	for _, v := range x {
		sum += fold(v)
	}
	return sum
}

// fold numbers 0, −1, 1, −2, 2 and so on.
func fold(v int64) uint64 { return uint64(v<<1) ^ uint64(v>>63) }

// part chooses into how many parts the residual is cut, and the Rice parameter
// of each. Sums are taken of the finest parts and added up for coarser ones.
func (s *subframe) part() {
	s.bits = 1 << 62
	n, finest := len(s.x), 0
	for finest < maxPartition && n%(2<<finest) == 0 && n>>(finest+1) > s.order {
		finest++
	}
	var sums [1 << maxPartition]uint64
	for p := range 1 << finest {
		sums[p] = magnitude(s.residual[max(p*n>>finest, s.order) : (p+1)*n>>finest])
	}
	for parts := finest; parts >= 0; parts-- {
		s.try(parts, &sums)
		for p := range 1 << parts / 2 {
			sums[p] = sums[2*p] + sums[2*p+1]
		}
	}
	s.bits += 14 + s.order*int(s.depth)
}

// try keeps a partition whose parts have the given sums if it is the best yet.
func (s *subframe) try(parts int, sums *[1 << maxPartition]uint64) {
	var rice [1 << maxPartition]uint
	total := 0
	for p := range 1 << parts {
		n := len(s.x) >> parts
		if p == 0 {
			n -= s.order
		}
		k, cost := riceFor(sums[p], uint64(n))
		rice[p] = k
		total += cost + 5
	}
	if total < s.bits {
		s.bits, s.parts, s.rice = total, parts, rice
	}
}

// riceFor returns the parameter for n residuals of a sum, from their mean, and
// about how many bits they take with it.
func riceFor(sum, n uint64) (k uint, cost int) {
	k = min(uint(bits.Len64(sum/n)), maxRice)
	best := uint64(1) << 63
	for _, try := range [2]uint{k, max(k, 1) - 1} {
		if c := n*uint64(try+1) + sum>>try; c < best {
			best, k = c, try
		}
	}
	return k, int(best)
}

// write appends the subframe.
func (s *subframe) write(w *bitWriter) {
	if s.constant {
		w.put(0, 8)
		putSigned(w, s.x[0], s.depth)
		return
	}
	w.put(uint32(8|s.order)<<1, 8)
	for _, v := range s.x[:s.order] {
		putSigned(w, v, s.depth)
	}
	w.put(1, 2) // Rice codes with parameters of five bits
	w.put(uint32(s.parts), 4)
	n := len(s.x)
	for p := range 1 << s.parts {
		from, to := p*n>>s.parts, (p+1)*n>>s.parts
		k := s.rice[p]
		w.put(uint32(k), 5)
		for _, v := range s.residual[max(from, s.order):to] {
			u := fold(v)
			if q := uint(u >> k); q+1+k <= 32 {
				w.put(1<<k|uint32(u)&(1<<k-1), q+1+k)
			} else {
				w.unary(uint32(q))
				w.put(uint32(u), k)
			}
		}
	}
}

func putSigned(w *bitWriter, v int64, depth uint) { w.put(uint32(v), depth) }
