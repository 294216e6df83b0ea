package diagnostic

// Near is the candidate closest to word, or "" when none is close: at most one
// change for up to four letters, two up to eight, three beyond (optimal string
// alignment: insert, delete, replace, swap neighbours). The first of equals
// wins, so give candidates in a fixed order.
func Near(word string, candidates []string) string {
	w := []rune(word)
	limit := 1
	if len(w) > 4 {
		limit = 2
	}
	if len(w) > 8 {
		limit = 3
	}
	best, found := limit+1, ""
	for _, c := range candidates {
		if d := distance(w, []rune(c), best); d < best {
			best, found = d, c
		}
	}
	return found
}

func distance(a, b []rune, stop int) int {
	if len(a)-len(b) >= stop || len(b)-len(a) >= stop || len(a) > 64 || len(b) > 64 {
		return stop
	}
	prev2 := make([]int, len(b)+1)
	prev := make([]int, len(b)+1)
	cur := make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		cur[0] = i
		for j := 1; j <= len(b); j++ {
			c := 1
			if a[i-1] == b[j-1] {
				c = 0
			}
			cur[j] = min(prev[j]+1, cur[j-1]+1, prev[j-1]+c)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				cur[j] = min(cur[j], prev2[j-2]+1)
			}
		}
		prev2, prev, cur = prev, cur, prev2
	}
	return prev[len(b)]
}
