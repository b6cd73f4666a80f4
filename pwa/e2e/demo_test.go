package e2e

import (
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

