package memory

import (
	"testing"

	"stillroom/server/store"
	"stillroom/server/store/storetest"
	"stillroom/sync"
)

func TestContract(t *testing.T) {
	storetest.Run(t, func(*testing.T) storetest.Opener {
		return storetest.Opener{Open: func(*testing.T) store.Store { return New(sync.Epoch{1}, make([]byte, 32)) }}
	})
}
