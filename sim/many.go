package sim

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// Many calls do(i) for i in 0..n-1 on all processors and returns the error of
// the lowest i that failed. It stops handing out work once one has failed or
// the context has ended.
func Many(ctx context.Context, n int, do func(i int) error) error {
	var (
		wg     sync.WaitGroup
		mu     sync.Mutex
		next   atomic.Int64
		first  error
		lowest = n
	)
	for range min(runtime.GOMAXPROCS(0), n) {
		wg.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1) - 1)
				if i >= n {
					return
				}
				if err := do(i); err != nil {
					mu.Lock()
					if i < lowest {
						lowest, first = i, err
					}
					mu.Unlock()
					next.Store(int64(n))
					return
				}
			}
		})
	}
	wg.Wait()
	if first != nil {
		return first
	}
	return ctx.Err()
}
