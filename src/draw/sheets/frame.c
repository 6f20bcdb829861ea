#include "draw/sheets/sheets.h"

#include <math.h>
#include <string.h>

#define FOOT_MM 10.0 /* of sheets without a title block */

/* The whole frame, from its upper left corner. */
static ks_box frame_box(ks_frame frame)
{
    bool wide = frame == KS_FRAME_WIDE;
    return (ks_box){0, 0, wide ? KS_FRAME_HEIGHT : KS_FRAME_WIDTH,
                    wide ? KS_FRAME_WIDTH : KS_FRAME_HEIGHT};
}

ks_box ks_sheet_room(ks_frame frame)
{
    ks_box all = frame_box(frame);
    double bottom = frame == KS_FRAME_BLOCK ? KS_SHEET_BOTTOM : all.y1 - FOOT_MM - 2;
    return (ks_box){KS_SHEET_LEFT, KS_SHEET_TOP, all.x1 - KS_SHEET_LEFT, bottom};
}

/* As large as it fits on one line; else on two. */
static void put_title(ks_scene *scene, const char *title, double width)
{
    if (ks_scene_measure(scene, KS_LOOK_STRONG, KS_PLAIN, title) <= width)
        ks_scene_sized(scene, KS_LOOK_STRONG, (ks_point){KS_SHEET_LEFT, 11}, KS_TITLE, title,
                       width);
    else
        ks_scene_wrap(scene, KS_LOOK_STRONG, (ks_point){KS_SHEET_LEFT, 6.2}, KS_PLAIN, width, 2,
                      5.6, title);
}

ks_scene *ks_sheet_begin_framed(ks_sheets *sheets, const ks_facts *facts, ks_heading heading,
                                ks_frame frame)
{
    ks_box all = frame_box(frame), room = ks_sheet_room(frame);
    ks_scene *scene = ks_scene_create(sheets->arena, sheets->type, all.x1, all.y1);
    scene->name = heading.name;
    scene->title = ks_type_clean(sheets->arena, heading.title);
    scene->about = heading.below;
    sheets->sheets = KS_GROW(sheets->arena, sheets->sheets, sheets->n, &sheets->room, ks_sheet);
    sheets->sheets[sheets->n++] = (ks_sheet){scene, facts, heading.kind, frame};
    ks_scene_box(scene, KS_LOOK_FRAME, all);
    ks_scene_box(scene, KS_LOOK_ACCENT, (ks_box){room.x0, 19.4, room.x1, 20.6});
    const double width = room.x1 - room.x0;
    ks_scene_tag(scene, KS_TAG_TITLE);
    put_title(scene, heading.title, width);
    ks_scene_tag(scene, KS_TAG_PARAGRAPH);
    ks_scene_fitted(scene, KS_LOOK_TEXT, (ks_point){KS_SHEET_LEFT, 17.3}, KS_LEFT, KS_SMALL,
                    heading.below, width);
    return scene;
}

ks_scene *ks_sheet_begin(ks_sheets *sheets, const ks_facts *facts, ks_heading heading)
{
    return ks_sheet_begin_framed(sheets, facts, heading, KS_FRAME_BLOCK);
}

void ks_sheets_warn(ks_sheets *sheets, const char *words)
{
    sheets->warnings = KS_GROW(sheets->arena, sheets->warnings, sheets->n_warnings,
                               &sheets->warnings_room, const char *);
    sheets->warnings[sheets->n_warnings++] = words;
}

/* A field of the title block: a small word for what it is over what it says, which takes two small
 * lines when it is too long for one of plain size. */
static void put_field(ks_scene *scene, ks_box box, const char *caption, const char *value)
{
    const double inset = 1.5;
    double width = box.x1 - box.x0 - 2 * inset, x = box.x0 + inset;
    ks_scene_box(scene, KS_LOOK_RULE, box);
    ks_scene_fitted(scene, KS_LOOK_FAINT, (ks_point){x, box.y0 + 3.3}, KS_LEFT, KS_SMALL, caption,
                    width);
    if (ks_scene_measure(scene, KS_LOOK_STRONG, KS_PLAIN, value) <= width)
        ks_scene_words(scene, KS_LOOK_STRONG, (ks_point){x, box.y1 - 2.4}, KS_LEFT, KS_PLAIN,
                       value);
    else
        ks_scene_wrap(scene, KS_LOOK_STRONG, (ks_point){x, box.y0 + 7.2}, KS_SMALL, width, 2, 3.6,
                      value);
}

static const char *or_empty(const char *text)
{
    return text ? text : "";
}

static const char *firing_of(const ks_sheets *sheets, const ks_sheet *sheet)
{
    const ks_order *order = sheets->plan ? sheets->plan->order : NULL;
    const char *day = sheet->facts ? ks_say_day(sheet->facts->load->day, sheets->arena) : "";
    return ks_say_join(sheets->arena, " · ", day, order ? or_empty(order->title) : "");
}

static const char *plan_id(const ks_sheets *sheets, const ks_sheet *sheet)
{
    return sheet->facts    ? sheet->facts->id
           : *sheets->hash ? ks_arena_print(sheets->arena, "plan %.8s", sheets->hash)
                           : "";
}

static const char *foot_words(const ks_sheets *sheets, const ks_sheet *sheet, const char *kiln)
{
    const ks_order *order = sheets->plan ? sheets->plan->order : NULL;
    const char *words =
        ks_say_join(sheets->arena, " · ", or_empty(order ? order->studio : sheets->studio),
                    firing_of(sheets, sheet));
    words = ks_say_join(sheets->arena, " · ", words, kiln);
    return ks_say_join(sheets->arena, " · ", words, or_empty(sheets->options->date));
}

/* Whose sheet it is, of what firing and kiln; which one of how many. Where that is too long, the
 * kiln's sizes are left to the overview. */
static void foot(ks_sheets *sheets, int at)
{
    const ks_sheet *sheet = &sheets->sheets[at];
    ks_scene *scene = sheet->scene;
    ks_box frame = frame_box(sheet->frame);
    double left = KS_SHEET_LEFT, right = frame.x1 - KS_SHEET_LEFT, y = frame.y1 - FOOT_MM;
    ks_scene_line(scene, KS_LOOK_RULE, (ks_point){0, y}, (ks_point){frame.x1, y});
    const char *number = ks_arena_print(sheets->arena, "%d / %d", at + 1, sheets->n);
    double taken = ks_scene_words(scene, KS_LOOK_STRONG, (ks_point){right, y + 4}, KS_RIGHT,
                                  KS_SMALL, plan_id(sheets, sheet));
    ks_scene_words(scene, KS_LOOK_STRONG, (ks_point){right, y + 8}, KS_RIGHT, KS_SMALL, number);
    const char *kiln = sheet->facts ? sheet->facts->kiln : "";
    const char *words = foot_words(sheets, sheet, kiln);
    double room = right - left - taken - 4;
    if (ks_scene_lines(scene, KS_LOOK_TEXT, KS_SMALL, room, words) > 2)
        words = foot_words(sheets, sheet,
                           ks_arena_print(sheets->arena, "%.*s", (int)strcspn(kiln, ","), kiln));
    ks_scene_wrap(scene, KS_LOOK_TEXT, (ks_point){left, y + 4}, KS_SMALL, room, 2, 4, words);
}

/* The kilns of a sheet of the whole plan, each once. */
static const char *kilns_of(const ks_plan *plan, ks_arena *arena)
{
    const char *words = "";
    for (int i = 0; plan && i < plan->n_loads; i++) {
        bool told = false;
        for (int k = 0; k < i; k++)
            told = told || strcmp(plan->loads[k].kiln_id, plan->loads[i].kiln_id) == 0;
        if (!told)
            words = ks_say_join(arena, ", ", words, plan->loads[i].kiln_id);
    }
    return words;
}

/* The fields of ISO 7200: legal owner, title, document type, identification, date of issue,
 * creator, approval person, sheet. */
static void title_block(ks_sheets *sheets, int at)
{
    const ks_sheet *sheet = &sheets->sheets[at];
    ks_scene *scene = sheet->scene;
    const ks_order *order = sheets->plan ? sheets->plan->order : NULL;
    const ks_facts *facts = sheet->facts;
    double y = 231, m = 243, b = KS_FRAME_HEIGHT;
    const char *version = sheets->plan ? or_empty(sheets->plan->version) : "";
    const char *planner = ks_say_join(sheets->arena, " ", "kilnstow", version);
    put_field(scene, (ks_box){0, y, 60, m}, ks_tr("Studio"),
              or_empty(order ? order->studio : sheets->studio));
    put_field(scene, (ks_box){60, y, 132, m}, ks_tr("Firing"), firing_of(sheets, sheet));
    put_field(scene, (ks_box){0, m, 64, b}, ks_tr("Kiln"),
              facts ? facts->kiln : kilns_of(sheets->plan, sheets->arena));
    put_field(scene, (ks_box){132, y, 180, m}, ks_tr("Document"), sheet->kind);
    put_field(scene, (ks_box){64, m, 94, b}, ks_tr("Load · plan"), plan_id(sheets, sheet));
    put_field(scene, (ks_box){94, m, 110, b}, ks_tr("Date"), or_empty(sheets->options->date));
    put_field(scene, (ks_box){110, m, 135, b}, ks_tr("Planned by"), planner);
    put_field(scene, (ks_box){135, m, 160, b}, ks_tr("Checked by"), "");
    put_field(scene, (ks_box){160, m, 180, b}, ks_tr("Sheet"),
              ks_arena_print(sheets->arena, "%d / %d", at + 1, sheets->n));
}

/* Whoever prints the sheets is told what they do not say. */
static void tell_cut(ks_sheets *sheets, const ks_scene *scene)
{
    if (scene->n_cut > 0)
        ks_sheets_warn(sheets,
                       ks_arena_print(sheets->arena, "%s: %d × cut for want of room: \"%s\"",
                                      scene->name, scene->n_cut, scene->cut));
}

void ks_sheets_finish(ks_sheets *sheets)
{
    for (int i = 0; i < sheets->n; i++) {
        (sheets->sheets[i].frame == KS_FRAME_BLOCK ? title_block : foot)(sheets, i);
        tell_cut(sheets, sheets->sheets[i].scene);
    }
}

double ks_columns_headed(ks_scene *scene, const ks_column *columns, int n, double y)
{
    for (int i = 0; i < n; i++)
        ks_scene_fitted(scene, KS_LOOK_FAINT, (ks_point){columns[i].x_mm, y}, KS_LEFT, KS_SMALL,
                        ks_tr(columns[i].head), columns[i].width_mm);
    ks_scene_line(scene, KS_LOOK_LEADER, (ks_point){KS_SHEET_LEFT, y + 1.4},
                  (ks_point){KS_SHEET_RIGHT, y + 1.4});
    return y + 1.4;
}

int ks_cell_wrapped(ks_scene *scene, const ks_column *column, ks_look look, double row_top,
                    int line, const char *text, bool draw)
{
    const double pitch = 3.9;
    int lines = ks_scene_lines(scene, look, KS_SMALL, column->width_mm, text);
    if (draw)
        ks_scene_wrap(scene, look, (ks_point){column->x_mm, row_top + 3.8 + pitch * line}, KS_SMALL,
                      column->width_mm, lines, pitch, text);
    return line + lines;
}

double ks_row_height(int lines)
{
    return fmax(KS_ROW, 3.9 * lines + 1.2);
}

static ks_scene *listing_page(ks_sheets *sheets, const ks_facts *facts, const ks_listing *listing,
                              int page)
{
    ks_heading heading = listing->heading;
    if (page > 0) {
        heading.name = ks_arena_print(sheets->arena, "%s-%d", heading.name, page + 1);
        heading.title = ks_arena_print(sheets->arena, "%s, continued", heading.title);
    }
    return ks_sheet_begin(sheets, facts, heading);
}

void ks_listing_sheets(ks_sheets *sheets, const ks_facts *facts, const ks_listing *listing)
{
    int row = 0, page = 0;
    do {
        ks_scene *scene = listing_page(sheets, facts, listing, page);
        double y = KS_SHEET_TOP + 2;
        if (page == 0 && listing->note)
            y +=
                4.2 * ks_scene_wrap(scene, KS_LOOK_TEXT, (ks_point){KS_SHEET_LEFT, y + 1}, KS_SMALL,
                                    KS_SHEET_RIGHT - KS_SHEET_LEFT, 4, 4.2, listing->note) +
                2;
        y = ks_columns_headed(scene, listing->columns, listing->n_columns, y + 1);
        const double first = y;
        while (row < listing->n_rows) {
            double height = listing->row(scene, listing->data, row, y, false);
            if (y + height > KS_SHEET_BOTTOM && y > first)
                break;
            listing->row(scene, listing->data, row++, y, true);
            ks_scene_line(scene, KS_LOOK_RULE, (ks_point){KS_SHEET_LEFT, y},
                          (ks_point){KS_SHEET_RIGHT, y});
            y += height;
        }
        ks_scene_line(scene, KS_LOOK_RULE, (ks_point){KS_SHEET_LEFT, y},
                      (ks_point){KS_SHEET_RIGHT, y});
        page++;
    } while (row < listing->n_rows);
}

int ks_scale_under(double width, double height, double paper_width, double paper_height)
{
    static const int unders[] = {1, 2, 5, 10, 20, 50, 100, 200, 500, 1000};
    enum { N = sizeof unders / sizeof unders[0] };
    for (int i = 0; i < N; i++)
        if (width / unders[i] <= paper_width && height / unders[i] <= paper_height)
            return unders[i];
    return unders[N - 1];
}

static void put_bar(ks_scene *scene, ks_point at, double step_mm, int steps, const char *unit,
                    double each)
{
    for (int i = 0; i < steps; i++)
        ks_scene_box(scene, i % 2 ? KS_LOOK_BLANK : KS_LOOK_SOLID,
                     (ks_box){at.x + i * step_mm, at.y, at.x + (i + 1) * step_mm, at.y + 1.6});
    ks_scene_words(scene, KS_LOOK_TEXT, (ks_point){at.x + steps * step_mm + 1.2, at.y + 2}, KS_LEFT,
                   KS_SMALL, ks_arena_print(scene->arena, "%g %s", each * steps, unit));
}

static void put_ruler(ks_scene *scene, ks_point at)
{
    for (int i = 0; i <= 10; i++)
        ks_scene_line(scene, KS_LOOK_RIM, (ks_point){at.x + 10 * i, at.y},
                      (ks_point){at.x + 10 * i, at.y - (i % 5 ? 1.2 : 2.2)});
    ks_scene_line(scene, KS_LOOK_RIM, at, (ks_point){at.x + 100, at.y});
    ks_scene_words(scene, KS_LOOK_FAINT, (ks_point){at.x, at.y + 3.9}, KS_LEFT, KS_SMALL,
                   ks_tr("100 mm: if not, the print is not full size"));
}

void ks_scale_bar(ks_scene *scene, double y, int under)
{
    double left = KS_SHEET_LEFT;
    int cm = under == 1   ? 3
             : under == 2 ? 6
                          : 15,
        in = under == 1   ? 1
             : under == 2 ? 2
                          : 6,
        steps = 3;
    if (under >= 10) {
        cm = 3 * under;
        in = under;
    }
    ks_scene_words(scene, KS_LOOK_STRONG, (ks_point){left, y + 4}, KS_LEFT, KS_PLAIN,
                   ks_arena_print(scene->arena, "1 : %d", under));
    put_bar(scene, (ks_point){left + 16, y + 1.2}, cm * 10.0 / steps / under, steps, "cm",
            cm / (double)steps);
    put_bar(scene, (ks_point){left + 16, y + 6.2}, in * 25.4 / steps / under, steps, "in",
            in / (double)steps);
    put_ruler(scene, (ks_point){KS_SHEET_RIGHT - 101, y + 5});
}

void ks_scale_bar_short(ks_scene *scene, ks_point at, double under, bool inches)
{
    double width = ks_scene_words(scene, KS_LOOK_STRONG, at, KS_LEFT, KS_SMALL,
                                  ks_arena_print(scene->arena, "1 : %.3g", under));
    double each = under < 1.5 ? 1 : under < 3 ? 2 : under < 8 ? 5 : 5 * ceil(under / 8);
    ks_point bar = {at.x + width + 2, at.y - 2};
    if (inches)
        put_bar(scene, bar, 25.4 * ceil(each / 2) / under, 1, "in", ceil(each / 2));
    else
        put_bar(scene, bar, 10 * each / under, 1, "cm", each);
}
