package waterfile_test

import (
	"fmt"
	"strings"

	"halfwater/internal/waterfile"
	"halfwater/water"
)

func ExampleAnswer() {
	table, err := waterfile.Read(strings.NewReader(`id,ph_in,temp_c,ca_mg_l,mg_mg_l,na_mg_l,k_mg_l,cl_mg_l,so4_mg_l,alk_mg_l_caco3
tap,7.5,20,80,12,23,2,54.4,57.6,165
well,7.5,20,8o,12,23,2,54.4,57.6,165
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	answers := waterfile.Answer(table, water.Model{})
	for i, s := range answers.Of {
		if s != nil {
			fmt.Printf("%s: SI calcite %+.2f\n", table.Rows[i].ID, s.SICalcite())
		}
	}
	fmt.Println(answers.Faults)
	// Output:
	// tap: SI calcite +0.15
	// line 3, water well, column ca_mg_l: "8o" is not a number; write a number such as 12.5, without a unit
}
