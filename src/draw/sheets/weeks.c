/* The calendar as sheets of two weeks: a row for each kiln, and the times of its loads below. */
#include "base/days/civil.h"
#include "base/days/date.h"
#include "base/language.h"
#include "clock/occupation.h"
#include "clock/zone_words.h"
#include "draw/sheets/flow.h"
#include "draw/sheets/weeks.h"

#include <math.h>
#include <string.h>

enum { DAY_S = 86400, DAYS = 14, MOST_ROW_MM = 17 };

#define NAME_MM 26.0
#define BAR_MM 6.0
#define PICTURE_MM 110.0 /* of the sheet's height, at most */

static const char *const day_names[] = {KS_WORDS("Mo"), KS_WORDS("Tu"), KS_WORDS("We"),
                                        KS_WORDS("Th"), KS_WORDS("Fr"), KS_WORDS("Sa"),
                                        KS_WORDS("Su")};

typedef struct {
    const ks_calendar *calendar;
    ks_zone_rule zone;
    int64_t first_day; /* of the two weeks, a Monday */
    int n_kilns;
    const char **kilns; /* names */
    ks_flow flow;
    double row_mm;
    double left, day_mm;
    bool is_first; /* remarks go on the first */
} fortnight;

static int64_t local_of(const fortnight *f, int64_t utc_s)
{
    return ks_local_of_utc(&f->zone, utc_s);
}

static int64_t day_of(int64_t local_s)
{
    return local_s / DAY_S - (local_s % DAY_S < 0);
}

static int64_t monday_of(int64_t day)
{
    return day - ks_civil_of(day * DAY_S).weekday;
}

static double x_of(const fortnight *f, int64_t utc_s)
{
    double days = (double)(local_of(f, utc_s) - f->first_day * DAY_S) / DAY_S;
    return f->left + fmax(0, fmin(DAYS, days)) * f->day_mm;
}

static bool is_within(const fortnight *f, const ks_dated_load *load)
{
    return local_of(f, load->at.loading_s) < (f->first_day + DAYS) * DAY_S &&
           local_of(f, load->at.empty_s) > f->first_day * DAY_S;
}

static void list_kilns(fortnight *f, ks_arena *arena)
{
    const ks_calendar *calendar = f->calendar;
    f->kilns = KS_TAKE(arena, calendar->n_loads, const char *);
    for (int i = 0; i < calendar->n_loads; i++) {
        bool known = false;
        for (int k = 0; k < f->n_kilns && !known; k++)
            known = strcmp(f->kilns[k], calendar->loads[i].kiln) == 0;
        if (!known)
            f->kilns[f->n_kilns++] = calendar->loads[i].kiln;
    }
}

static void put_days(const fortnight *f, double top, double bottom)
{
    ks_scene *scene = f->flow.scene;
    for (int d = 0; d < DAYS; d++) {
        double x = f->left + d * f->day_mm;
        ks_civil at = ks_civil_of((f->first_day + d) * DAY_S);
        if (at.weekday >= 5)
            ks_scene_box(scene, KS_LOOK_BAND, (ks_box){x, top, x + f->day_mm, bottom});
        ks_scene_words(scene, KS_LOOK_FAINT, (ks_point){x + f->day_mm / 2, top + 4}, KS_MIDDLE,
                       KS_SMALL, ks_tr(day_names[at.weekday]));
        ks_scene_words(scene, KS_LOOK_TEXT, (ks_point){x + f->day_mm / 2, top + 8}, KS_MIDDLE,
                       KS_SMALL, ks_arena_print(scene->arena, "%d", at.day));
    }
    for (int d = 0; d <= DAYS; d++) {
        double x = f->left + d * f->day_mm;
        ks_scene_line(scene, KS_LOOK_GRID, (ks_point){x, top}, (ks_point){x, bottom});
    }
}

static void put_bar(const fortnight *f, ks_look look, int64_t from_s, int64_t to_s, double y)
{
    double x0 = x_of(f, from_s), x1 = x_of(f, to_s);
    if (x1 > x0)
        ks_scene_box(f->flow.scene, look, (ks_box){x0, y, x1, y + BAR_MM});
}

static void put_load(const fortnight *f, const ks_dated_load *load, double y)
{
    const ks_occupation *at = &load->at;
    int64_t off_s = ks_occupation_watched_s(at);
    put_bar(f, KS_LOOK_BLANK, at->loading_s, at->on_s, y);
    put_bar(f, KS_LOOK_WALL, off_s, at->open_s, y);
    put_bar(f, KS_LOOK_BLANK, at->unloading_s, at->empty_s, y);
    put_bar(f, KS_LOOK_SOLID, at->on_s, off_s, y);
    const char *number = ks_arena_print(f->flow.scene->arena, "%d%s%s", load->load,
                                        load->proposed ? "?" : "", load->clashes ? "!" : "");
    ks_scene_words(f->flow.scene, KS_LOOK_NUMBER, (ks_point){x_of(f, at->loading_s), y - 1.2},
                   KS_LEFT, KS_PLAIN, number);
}

static void put_kiln(const fortnight *f, int kiln, double y)
{
    ks_scene *scene = f->flow.scene;
    ks_scene_wrap(scene, KS_LOOK_STRONG, (ks_point){KS_SHEET_LEFT, y + f->row_mm / 2}, KS_SMALL,
                  NAME_MM - 2, 2, 3.9, f->kilns[kiln]);
    ks_scene_line(scene, KS_LOOK_RULE, (ks_point){KS_SHEET_LEFT, y}, (ks_point){KS_SHEET_RIGHT, y});
    for (int i = 0; i < f->calendar->n_loads; i++) {
        const ks_dated_load *load = &f->calendar->loads[i];
        if (is_within(f, load) && strcmp(load->kiln, f->kilns[kiln]) == 0)
            put_load(f, load, y + f->row_mm - BAR_MM - 1.5);
    }
}

/* Returns where its last line is. */
static double put_key(const fortnight *f, double y)
{
    static const struct {
        ks_look look;
        const char *says;
    } keys[] = {{KS_LOOK_BLANK, KS_WORDS("loading, unloading")},
                {KS_LOOK_SOLID, KS_WORDS("firing")},
                {KS_LOOK_WALL, KS_WORDS("cooling, keep shut")}};
    double x = KS_SHEET_LEFT;
    for (int i = 0; i < 3; i++) {
        ks_scene_box(f->flow.scene, keys[i].look, (ks_box){x, y - 3, x + 6, y});
        x += 8 +
             ks_scene_words(f->flow.scene, KS_LOOK_TEXT, (ks_point){x + 8, y}, KS_LEFT, KS_SMALL,
                            ks_tr(keys[i].says)) +
             6;
    }
    const char *signs = ks_tr("? proposed   ! clashes");
    if (x + ks_scene_measure(f->flow.scene, KS_LOOK_TEXT, KS_SMALL, signs) > KS_SHEET_RIGHT) {
        x = KS_SHEET_LEFT;
        y += 5;
    }
    ks_scene_fitted(f->flow.scene, KS_LOOK_TEXT, (ks_point){x, y}, KS_LEFT, KS_SMALL, signs,
                    KS_SHEET_RIGHT - x);
    return y;
}

/* The kilns from `first` on that one sheet has room for; how many. */
static int put_picture(fortnight *f, int first)
{
    const double head = 10;
    int n = (int)(PICTURE_MM / f->row_mm);
    if (n > f->n_kilns - first)
        n = f->n_kilns - first;
    double top = f->flow.y + 2, bottom = top + head + n * f->row_mm;
    ks_scene_tag(f->flow.scene, KS_TAG_FIGURE);
    put_days(f, top, bottom);
    for (int k = 0; k < n; k++)
        put_kiln(f, first + k, top + head + k * f->row_mm);
    ks_scene_line(f->flow.scene, KS_LOOK_RULE, (ks_point){KS_SHEET_LEFT, bottom},
                  (ks_point){KS_SHEET_RIGHT, bottom});
    ks_scene_tag(f->flow.scene, KS_TAG_PARAGRAPH);
    f->flow.y = put_key(f, bottom + 6) + 2;
    return n;
}

static const char *short_time(const fortnight *f, int64_t utc_s)
{
    if (utc_s == KS_NO_TIME)
        return "";
    ks_civil at = ks_civil_of(local_of(f, utc_s));
    return ks_arena_print(f->flow.scene->arena, "%s %d %02d:%02d", ks_tr(day_names[at.weekday]),
                          at.day, at.minute / 60, at.minute % 60);
}

static const ks_column columns[] = {{KS_WORDS("No"), 4, 8},
                                    {KS_WORDS("Kiln"), 12, 19},
                                    {KS_WORDS("Loading"), 32, 23.5},
                                    {KS_WORDS("On"), 56, 23.5},
                                    {KS_WORDS("Cone down"), 80, 23.5},
                                    {KS_WORDS("Over"), 104, 23.5},
                                    {KS_WORDS("Open from"), 128, 23.5},
                                    {KS_WORDS("Unloading"), 152, 23.5}};
enum { COLUMNS = sizeof columns / sizeof *columns };

static void put_times(fortnight *f, const ks_dated_load *load)
{
    const ks_occupation *at = &load->at;
    const char *cells[COLUMNS] = {ks_arena_print(f->flow.scene->arena, "%d%s%s", load->load,
                                                 load->proposed ? "?" : "",
                                                 load->clashes ? "!" : ""),
                                  load->kiln,
                                  short_time(f, at->loading_s),
                                  short_time(f, at->on_s),
                                  short_time(f, at->cone_down_s),
                                  short_time(f, at->ended_s),
                                  short_time(f, at->open_s),
                                  short_time(f, at->unloading_s)};
    const double pitch = 5.4;
    if (f->flow.y + pitch > KS_SHEET_BOTTOM) {
        ks_flow_need(&f->flow, KS_SHEET_BOTTOM);
        f->flow.y = ks_columns_headed(f->flow.scene, columns, COLUMNS, f->flow.y + 5);
    }
    ks_flow_row(&f->flow, columns, COLUMNS, cells, pitch);
}

static void put_fortnight(ks_sheets *sheets, fortnight *f)
{
    ks_arena *arena = sheets->arena;
    const char *first = ks_date_print((int)f->first_day, arena);
    const char *title = ks_arena_print(arena, "Kilns, %s to %s", first,
                                       ks_date_print((int)f->first_day + DAYS - 1, arena));
    const char *below =
        *f->calendar->zone ? ks_tr("Times by the studio's own clock; its zone stands at the foot")
                           : ks_tr("Times by the studio's own clock; the order tells no time zone");
    const char *name = ks_arena_print(arena, "weeks-%s", first);
    f->flow = ks_flow_begin(sheets, NULL, (ks_heading){name, title, below, ks_tr("Calendar")});
    for (int k = 0; k < f->n_kilns;) {
        if (k > 0)
            ks_flow_need(&f->flow, KS_SHEET_BOTTOM);
        k += put_picture(f, k);
    }
    f->flow.y = ks_columns_headed(f->flow.scene, columns, COLUMNS, f->flow.y + 5);
    for (int i = 0; i < f->calendar->n_loads; i++)
        if (is_within(f, &f->calendar->loads[i]))
            put_times(f, &f->calendar->loads[i]);
    f->flow.y += 2;
    for (int i = 0; f->is_first && i < f->calendar->n_remarks; i++)
        ks_flow_words(&f->flow, KS_LOOK_TEXT, 0, f->calendar->remarks[i]);
    f->is_first = false;
    f->flow.y += 2;
    if (*f->calendar->zone)
        ks_flow_words(&f->flow, KS_LOOK_FAINT, 0,
                      ks_arena_print(arena, "The clock: %s.", ks_zone_words(&f->zone, arena)));
    ks_flow_words(&f->flow, KS_LOOK_FAINT, 0,
                  ks_tr("Simulated times: a firing may take longer. Be there when it should end; "
                        "never open it hot."));
}

static bool any_within(const fortnight *f)
{
    for (int i = 0; i < f->calendar->n_loads; i++)
        if (is_within(f, &f->calendar->loads[i]))
            return true;
    return false;
}

void ks_weeks_sheets(ks_sheets *sheets, const ks_calendar *calendar)
{
    fortnight f = {.calendar = calendar, .left = KS_SHEET_LEFT + NAME_MM, .is_first = true};
    int64_t last_day = 0;
    (void)ks_zone_rule_parse(calendar->zone, &f.zone);
    f.day_mm = (KS_SHEET_RIGHT - f.left) / DAYS;
    f.row_mm = MOST_ROW_MM;
    list_kilns(&f, sheets->arena);
    if (calendar->n_loads == 0)
        return;
    int64_t first_day = monday_of(day_of(local_of(&f, calendar->loads[0].at.loading_s)));
    for (int i = 0; i < calendar->n_loads; i++) {
        int64_t day = day_of(local_of(&f, calendar->loads[i].at.empty_s));
        last_day = day > last_day ? day : last_day;
    }
    for (f.first_day = first_day; f.first_day <= last_day; f.first_day += DAYS)
        if (any_within(&f))
            put_fortnight(sheets, &f);
}
