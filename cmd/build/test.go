package main
import "context"
func test(ctx context.Context, h house, long bool, only string) error { return nil }
func bench(ctx context.Context, h house) error { return nil }
func release(ctx context.Context, h house) error { return nil }
