//go:build long

package dynamics

func init() { oracleDraws = 200 }
