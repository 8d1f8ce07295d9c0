package husbandry_test

import (
	"fmt"

	"halfwater/husbandry"
	"halfwater/quantity"
)

// Frogs over ricefish and shrimp: the frogs take what comes within reach.
func ExampleJudgeAll() {
	var stock []husbandry.Kept
	for _, name := range []string{"Vietnamese mossy frog", "Japanese rice fish", "cherry shrimp"} {
		s, err := husbandry.Lookup(name)
		if err != nil {
			fmt.Println(err)
			return
		}
		stock = append(stock, husbandry.Grown(s))
	}
	for _, p := range husbandry.JudgeAll(stock) {
		r := p.Reasons[0]
		fmt.Printf("%s: %s, %s, %s\n", p.Verdict, r.Code, r.Who, r.Whom)
	}
	// Output:
	// watch: meet.snaps, Vietnamese mossy frog, Japanese rice fish
	// watch: meet.snaps, Vietnamese mossy frog, cherry shrimp
	// carry on: meet.eats-young, Japanese rice fish, cherry shrimp
}

// A fish of 50 g at 30 C takes 0.42 mmol of oxygen an hour at rest (Clarke and Johnston 1999, from
// memory); one of 2 g at 25 C takes 0.378 mg per gram.
func ExampleRestingOxygen() {
	fmt.Printf("%.1f mg/h\n", husbandry.RestingOxygen(50, 30))
	fmt.Printf("%.3f mg/g/h\n", husbandry.RestingOxygen(2, 25)/2)
	// Output:
	// 13.4 mg/h
	// 0.378 mg/g/h
}

func ExampleLookup() {
	_, err := husbandry.Lookup("japanese ricefish")
	fmt.Println(err)
	// Output:
	// species "japanese ricefish" is not in the table: did you mean Japanese rice fish?
}

func ExampleLines_With() {
	guppy, _ := husbandry.Lookup("guppy")
	lines := husbandry.LinesOf([]husbandry.Kept{husbandry.Grown(guppy)}, husbandry.Maybe[quantity.MgPerL]{})
	_, err := lines.With(husbandry.Override{Of: husbandry.FreeAmmonia, Grade: husbandry.ActLine, Value: 0.1})
	fmt.Println(err)
	// Output:
	// act line of free ammonia: 0.1 mg N/L is looser than 0.03; these lines may be tightened, never loosened
}
