package plan

import "halfwater/caution"

func (v *visit) service(s *Sheet) Service            { return Service{} }
func (v *visit) restart(s *Sheet) []RestartCheck     { return nil }
func (v *visit) tests(s *Sheet) []TestDue            { return nil }
func (v *visit) concerns(s *Sheet) []Concern         { return nil }
func (v *visit) cautions(s *Sheet) []caution.Caution { return nil }
func (v *visit) missing(s *Sheet) []Missing          { return nil }
