package report

import (
	"context"
	"fmt"
	"io"
	"regexp"

	"underdisc/model/plant"
	"underdisc/viz/paper"
)

// names of the files of a run. Pictures of further valves have the valve's
// name before the dot.
var fileNames = regexp.MustCompile(`^(trace\.csv|events\.csv|summary\.json|report\.txt|(plot|first-lift|last-lifts)(-[a-z0-9-]+)?\.(png|svg))$`)

// IsFile tells whether the files of a run may have that name.
func IsFile(name string) bool { return fileNames.MatchString(name) }

// Files writes every file of the run: add is called once for each, watch with
// the times of the run as the tables pass them. It stops when the context ends.
func (rec *Record) Files(ctx context.Context, version string, watch func(t float64), add func(name string, write func(io.Writer) error) error) error {
	if rec.Run.Scenario.Sealed() {
		return rec.sealedFiles(ctx, version, watch, add)
	}
	var pictures []*picture
	var closeUps []span
	for i := range rec.Valves {
		name := ""
		if i > 0 {
			name = "-" + rec.Valves[i].Name
		}
		whole := rec.wholeRun(i)
		pictures = append(pictures, whole)
		whole.file = "plot" + name
		if first, ok := rec.firstLift(i); ok {
			first.file = "first-lift" + name
			pictures = append(pictures, first)
			closeUps = append(closeUps, first.spans()...)
		}
		if last, ok := rec.lastLifts(i); ok {
			last.file = "last-lifts" + name
			pictures = append(pictures, last)
			closeUps = append(closeUps, last.spans()...)
		}
	}
	springs := rec.springPictures(len(rec.Valves) > 0)
	for _, p := range springs {
		if p.closer {
			closeUps = append(closeUps, p.strip.span)
		}
	}
	err := add("trace.csv", func(w io.Writer) error {
		t, err := rec.newTrace(w)
		if err != nil {
			return err
		}
		err = rec.pass(ctx, closeUps, func(s *plant.Snapshot, inTable bool) error {
			watch(s.T)
			for _, p := range pictures {
				p.add(s)
			}
			for _, p := range springs {
				p.add(s)
			}
			if !inTable {
				return nil
			}
			return t.add(s)
		})
		if err != nil {
			return err
		}
		return t.w.Flush()
	})
	if err != nil {
		return err
	}
	if err := add("events.csv", rec.writeEvents); err != nil {
		return err
	}
	if err := add("report.txt", rec.Text); err != nil {
		return err
	}
	err = add("summary.json", func(w io.Writer) error { return rec.WriteSummary(w, version) })
	if err != nil {
		return err
	}
	pages := map[string]*paper.Page{}
	var names []string
	draw := func(file string, page *paper.Page) { names, pages[file] = append(names, file), page }
	for _, p := range pictures {
		draw(p.file, p.page(rec))
	}
	for _, p := range springs {
		draw(p.file, p.page(rec))
	}
	for _, name := range names {
		page := pages[name]
		for ending, write := range map[string]func(*paper.Page, io.Writer) error{"png": (*paper.Page).PNG, "svg": (*paper.Page).SVG} {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := add(fmt.Sprintf("%s.%s", name, ending), func(w io.Writer) error { return write(page, w) }); err != nil {
				return err
			}
		}
	}
	return nil
}
