package plan

import (
	"time"

	"halfwater/book"
	"halfwater/quantity"
)

// Over how many days meals that are written down one by one tell what is given: four weeks, or as old as the book is, but a week at least.
const (
	mealDays    = 28
	fewMealDays = 7
)

// mealsAhead are the daily habits that stand for the meals of the last four weeks which were written down one by one: they go
// on as the routine does. A daily habit that is in the book goes on by itself.
func (v *visit) mealsAhead() []book.Line {
	type food struct{ what, batch string }
	over := float64(mealDays)
	if len(v.Lines) > 0 {
		over = min(max(v.Now.Sub(v.Lines[0].At).Hours()/24, fewMealDays), mealDays)
	}
	var out []book.Line
	at := map[food]int{}
	habit := map[food]quantity.Grams{} // a day, of those that go on
	for _, l := range v.Lines {
		meal, ok := l.Body.(book.Feed)
		if !ok || !v.mine(l) || l.At.After(v.Now) {
			continue
		}
		key := food{meal.What, l.Batch}
		if meal.PerDay {
			habit[key] = meal.Grams
			continue
		}
		if v.Now.Sub(l.At) > mealDays*24*time.Hour {
			continue
		}
		given := meal.Grams / quantity.Grams(over)
		i, again := at[key]
		if again {
			given += out[i].Body.(book.Feed).Grams
		} else {
			i = len(out)
			at[key] = i
			out = append(out, book.Line{Batch: l.Batch})
		}
		meal.PerDay, meal.Grams = true, given
		out[i].Body = meal
	}
	for key, i := range at { // a habit of the same food would end here
		meal := out[i].Body.(book.Feed)
		meal.Grams += habit[key]
		out[i].Body = meal
	}
	return out
}
