"""Follows every foot of an export day by day and compares with the three tables of sample.json.

    python3 day-by-day.py EXPORT [SAMPLE.json]

Correction and its interval, step-downs and relapse, lapse and discontinuation of feet and of spells, days with data and
days covered. Written apart from the R scripts, on purpose in another manner: no intervals, only days. Ends with 1 on any difference.
"""
import csv
import json
import sys
from collections import defaultdict
from datetime import date
from pathlib import Path

folder = Path(sys.argv[1])
sample = Path(sys.argv[2]) if len(sys.argv) > 2 else Path(__file__).parents[2] / "values" / "sample.json"
cohort = json.loads(sample.read_text())["values"]["cohort"]
CUT_OFF = date.fromisoformat(cohort["cutOff"])
BREAK_IN, WINDOW, NEEDED, LOW, COVERED, SLACK = 2, 7, 4, 0.8, 0.8, 1e-9


def rows_of(name):
    with open(folder / f"{name}.csv", encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


episodes = {e["episode_id"]: e for e in rows_of("episodes")}


def day_of(row, field="date"):
    return (date.fromisoformat(row[field]) - date.fromisoformat(episodes[row["episode_id"]]["start_date"])).days


assessments, wear, phases = defaultdict(lambda: defaultdict(list)), defaultdict(dict), defaultdict(list)
for r in rows_of("assessments"):
    assessments[r["episode_id"]][day_of(r)].append(r)
for r in rows_of("wear"):
    wear[r["episode_id"]].setdefault(day_of(r), {})[r["source"]] = float(r["hours_worn"])
for r in rows_of("phases"):
    phases[r["episode_id"]].append((day_of(r, "start_date"), float(r["prescribed_hours"])))


def counting(episode, rows):
    treating = [r for r in rows if r["assessor_id"] and r["assessor_id"] == episodes[episode]["clinician_id"]]
    named = sorted((r for r in rows if r["assessor_id"]), key=lambda r: r["assessor_id"])
    return (treating or named or rows)[0]


def correction(rows, last, reason):
    uncorrected, corrected = [], None
    for day in sorted(rows):
        r = rows[day]
        if not 1 <= day <= last:
            continue
        position, flexibility = r["bisector_position"], r["flexibility"]
        if (position and float(position) > 2.5) or (flexibility and flexibility != "past straight"):
            uncorrected.append(day)
        elif position and flexibility and corrected is None and r["kind"] != "baseline":
            corrected = day
    if corrected is not None:
        return corrected, 1, max([0] + [d for d in uncorrected if d < corrected]), corrected
    causes = {"referred for casting": 2, "referred for surgery": 2, "withdrawn": 3, "finished": 4}
    return last, causes.get(reason, 0), max([0] + uncorrected), "Inf"


def relapse(down, following, rises, positions, last, reason, cut):
    day, _, after = down
    past = [d for d in positions if d <= day]
    reference = positions[max(past)] if past else None
    worse = lambda d: reference is not None and d in positions and positions[d] >= reference + 0.5
    if after == 0:
        later = [d for d in positions if d > day]
        if reference is None or not later:
            return reference, "no reference" if reference is None else "not seen after the end", 0, 0
        near = max(later) >= day + 84 - 14
        for d in range(day + 1, day + 85):
            if worse(d):
                return reference, "followed", d - day, 1
            if d == (max(cut, max(later)) if near else max(later)):
                return reference, "followed", d - day, 0
        return reference, "followed", 84, 0
    for d in range(day, last + 1):
        if d > day and (worse(d) or d in rises):
            return reference, "followed", d - day, 1
        if d == following or d == last:
            if d == day:
                return reference, "no time at risk", 0, 0
            left = reason in ("referred for casting", "referred for surgery", "withdrawn")
            return reference, "followed", d - day, 2 if d == following else 3 if left else 0
    raise ValueError("a step-down after the last day")


def lapse(adherence, first, to, origin):
    evaluable = None
    for d in range(first + WINDOW - 1, to + 1):
        inside = [adherence[q] for q in range(d - WINDOW + 1, d + 1) if q in adherence]
        if len(inside) < NEEDED:
            continue
        if sum(inside) / len(inside) < LOW - SLACK:
            return d - origin, 1
        evaluable = d
    return (None, None) if evaluable is None else (evaluable - origin, 0)


def discontinuation(worn, first, to, origin, end, withdrawn):
    if not any(first <= d <= to for d in worn):
        return None, None
    for d in range(first + WINDOW - 1, to + 1):
        if all(worn.get(q) == 0 for q in range(d - WINDOW + 1, d + 1)):
            return d - origin, 1
    return end - origin, int(withdrawn)


found = {"episodes": {}, "steps": [], "spells": {}}
for episode, e in sorted(episodes.items()):
    end_date = date.fromisoformat(e["end_date"]) if e["end_date"] else CUT_OFF
    last = (end_date - date.fromisoformat(e["start_date"])).days
    cut = (CUT_OFF - date.fromisoformat(e["start_date"])).days
    reason = e["end_reason"] or "in therapy"
    rows = {d: counting(episode, v) for d, v in assessments[episode].items()}
    hours = [None] * (last + 1)
    for d in range(last + 1):
        begun = [h for start, h in sorted(phases[episode]) if start <= d]
        hours[d] = begun[-1] if begun else None
    changes = [(d, hours[d - 1], hours[d]) for d in range(1, last + 1) if hours[d - 1] and hours[d] != hours[d - 1]]
    downs = [c for c in changes if c[2] < c[1]]
    if reason == "finished" and hours[last]:
        downs.append((last, hours[last], 0))
    rises = {d for d, before, after in changes if after > before}
    positions = {d: float(r["bisector_position"]) for d, r in rows.items()
                 if r["bisector_position"] and (d >= 0 or (r["kind"] == "baseline" and d >= -14))}
    for n, down in enumerate(downs):
        following = downs[n + 1][0] if n + 1 < len(downs) else None
        found["steps"].append((episode, *down, *relapse(down, following, rises, positions, last, reason, cut)))
    final = last if reason == "in therapy" else last - 1
    worn, adherence = {}, {}
    for d in range(BREAK_IN, final + 1):
        of_day = wear[episode].get(d, {})
        value = next((of_day[s] for s in ("sensor", "diary", "recall") if s in of_day), None)
        if hours[d] is not None and value is not None:
            worn[d] = value
            adherence[d] = value / (23 if hours[d] == 24 else hours[d])
    withdrawn = reason == "withdrawn"
    found["episodes"][episode] = (*correction(rows, last, reason), last, *lapse(adherence, BREAK_IN, final, 0),
                                  *discontinuation(worn, BREAK_IN, final, 0, last, withdrawn),
                                  len(adherence), sum(v >= COVERED - SLACK for v in adherence.values()))
    starts = [d for d in range(last + 1) if hours[d] and (d == 0 or hours[d] != hours[d - 1])]
    for n, start in enumerate(starts):
        end = starts[n + 1] - 1 if n + 1 < len(starts) else last
        first, to = max(start, BREAK_IN), min(end, final)
        found["spells"][episode, start] = (hours[start], end, *lapse(adherence, first, to, start),
                                           *discontinuation(worn, first, to, start, end, withdrawn and n == len(starts) - 1))


def table(name, fields):
    return zip(*(cohort[name][f] for f in fields))


stated = {
    "episodes": {key: tuple(v) for key, *v in table("episodes", [
        "episode", "time", "cause", "intervalLower", "intervalUpper", "lastDay", "lapseDay", "lapse",
        "discontinuationDay", "discontinuation", "wearDays", "coveredDays"])},
    "steps": list(table("stepDownTable", ["episode", "day", "before", "after", "reference", "state", "time", "cause"])),
    "spells": {(key, start): tuple(v) for key, start, *v in table("spellTable", [
        "episode", "start", "hours", "end", "lapseTime", "lapse", "discontinuationTime", "discontinuation"])},
}
differences = 0
for name in ("episodes", "spells"):
    for key in sorted(set(found[name]) | set(stated[name])):
        if found[name].get(key) != stated[name].get(key):
            differences += 1
            print(name, key, "day by day", found[name].get(key), "stated", stated[name].get(key))
for mine, theirs in zip(found["steps"], stated["steps"]):
    if mine != theirs:
        differences += 1
        print("step-down: day by day", mine, "stated", theirs)
differences += abs(len(found["steps"]) - len(stated["steps"]))
print(f'{len(found["episodes"])} episodes, {len(found["steps"])} step-downs, {len(found["spells"])} spells: {differences} differences')
sys.exit(1 if differences else 0)
