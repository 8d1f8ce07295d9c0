package say

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"text/template"
)

//go:embed catalogue/*.txt
var files embed.FS

var catalogue = mustRead()

// mustRead reads every catalogue file: "code: sentence" a line, # for remarks. A code given twice
// or a sentence that does not parse is a fault of the program and stops it at start.
func mustRead() map[string]*template.Template {
	out := map[string]*template.Template{}
	nested := template.FuncMap{ // a sentence within a sentence, by its own code and facts
		"sentence": func(code, facts any) string { return sentence(out, fmt.Sprint(code), facts) },
	}
	names, err := fs.Glob(files, "catalogue/*.txt")
	if err != nil {
		panic(err)
	}
	for _, name := range names {
		text, err := files.ReadFile(name)
		if err != nil {
			panic(err)
		}
		for n, line := range strings.Split(string(text), "\n") {
			line = strings.TrimSpace(line)
			if line == "" || strings.HasPrefix(line, "#") {
				continue
			}
			code, sentence, ok := strings.Cut(line, ": ")
			if !ok {
				panic(fmt.Sprintf("say: %s line %d is not \"code: sentence\"", name, n+1))
			}
			if out[code] != nil {
				panic(fmt.Sprintf("say: code %s stands twice (%s line %d)", code, name, n+1))
			}
			out[code] = template.Must(template.New(code).Funcs(printers).Funcs(nested).Parse(strings.TrimSpace(sentence)))
		}
	}
	return out
}

// Has reports whether the catalogue holds a sentence for a code.
func Has(code string) bool { return catalogue[code] != nil }

// Codes are all codes of the catalogue, in no order.
func Codes() []string {
	out := make([]string, 0, len(catalogue))
	for c := range catalogue {
		out = append(out, c)
	}
	return out
}

// Sentence is the sentence of a code with the facts put in. A code without a sentence, or facts
// that do not fit it, are shown as such rather than hidden: the code itself is what is left.
func Sentence(code string, facts any) string { return sentence(catalogue, code, facts) }

func sentence(catalogue map[string]*template.Template, code string, facts any) string {
	t := catalogue[code]
	if t == nil {
		return "[" + code + "]"
	}
	var b strings.Builder
	if err := t.Execute(&b, facts); err != nil {
		return "[" + code + "]"
	}
	return b.String()
}

// Coded is an error, a concern or a caution that has a sentence of its own.
type Coded interface{ Code() string }

// Error is what a person reads of an error: the sentence of the first error in its chain that has
// one, else the error's own words.
func Error(err error) string {
	var c Coded
	if errors.As(err, &c) && Has(c.Code()) {
		return Sentence(c.Code(), c)
	}
	return err.Error()
}
