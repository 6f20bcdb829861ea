#include "draw/scene/canvas.h"
#include "draw/sheets/sheets.h"

#include <math.h>
#include <string.h>

typedef struct {
    ks_scene *scene;
    ks_box frame;          /* of the axes, on paper; y0 is the top */
    double x0, x1, y0, y1; /* of the axes, in their units */
    double x_step, y_step;
} axes;

/* A step of 1, 2 or 5 times a power of ten that makes at most `most` steps. */
static double step_for(double range, int most)
{
    double step = pow(10, floor(log10(range / most)));
    static const double factors[] = {1, 2, 5, 10};
    for (int i = 0; i < 4; i++)
        if (range / (step * factors[i]) <= most)
            return step * factors[i];
    return step * 10;
}

static void range_of(const ks_chart *chart, bool of_x, double *least, double *most)
{
    *least = 0; /* both axes begin at nought, unless something is below it */
    *most = 0;
    for (int i = 0; i < chart->n_curves; i++)
        for (int k = 0; k < chart->curves[i].n; k++) {
            double value = of_x ? chart->curves[i].at[k].x : chart->curves[i].at[k].y;
            if (!isfinite(value))
                continue;
            *least = fmin(*least, value);
            *most = fmax(*most, value);
        }
    if (!(*most - *least > 1e-9))
        *most = *least + 1;
}

static axes axes_of(ks_scene *scene, const ks_chart *chart, ks_box box)
{
    axes a = {.scene = scene, .frame = {box.x0 + 16, box.y0 + 8, box.x1 - 6, box.y1 - 13}};
    range_of(chart, true, &a.x0, &a.x1);
    range_of(chart, false, &a.y0, &a.y1);
    a.x_step = step_for(a.x1 - a.x0, (int)fmax(2, (a.frame.x1 - a.frame.x0) / 14));
    a.y_step = step_for(a.y1 - a.y0, (int)fmax(2, (a.frame.y1 - a.frame.y0) / 9));
    a.x0 = floor(a.x0 / a.x_step + 1e-9) * a.x_step;
    a.y0 = floor(a.y0 / a.y_step + 1e-9) * a.y_step;
    a.x1 = ceil(a.x1 / a.x_step - 1e-9) * a.x_step;
    a.y1 = ceil(a.y1 / a.y_step - 1e-9) * a.y_step;
    return a;
}

static ks_point on_paper(const axes *a, ks_point p)
{
    double u = (p.x - a->x0) / (a->x1 - a->x0), v = (p.y - a->y0) / (a->y1 - a->y0);
    return (ks_point){a->frame.x0 + u * (a->frame.x1 - a->frame.x0),
                      a->frame.y1 - v * (a->frame.y1 - a->frame.y0)};
}

static void draw_grid(const axes *a, const ks_chart *chart)
{
    ks_scene *scene = a->scene;
    ks_box f = a->frame;
    int nx = (int)lround((a->x1 - a->x0) / a->x_step),
        ny = (int)lround((a->y1 - a->y0) / a->y_step);
    for (int i = 0; i <= nx; i++) {
        double value = a->x0 + i * a->x_step, x = on_paper(a, (ks_point){value, a->y0}).x;
        ks_scene_line(scene, KS_LOOK_GRID, (ks_point){x, f.y0}, (ks_point){x, f.y1});
        ks_scene_words(scene, KS_LOOK_TEXT, (ks_point){x, f.y1 + 4.2}, KS_MIDDLE, KS_SMALL,
                       ks_arena_print(scene->arena, "%.6g", fabs(value) < 1e-9 ? 0 : value));
    }
    for (int i = 0; i <= ny; i++) {
        double value = a->y0 + i * a->y_step, y = on_paper(a, (ks_point){a->x0, value}).y;
        ks_scene_line(scene, KS_LOOK_GRID, (ks_point){f.x0, y}, (ks_point){f.x1, y});
        ks_scene_words(scene, KS_LOOK_TEXT, (ks_point){f.x0 - 1.5, y + 1.2}, KS_RIGHT, KS_SMALL,
                       ks_arena_print(scene->arena, "%.6g", fabs(value) < 1e-9 ? 0 : value));
    }
    ks_scene_line(scene, KS_LOOK_CHAMBER, (ks_point){f.x0, f.y1}, (ks_point){f.x1, f.y1});
    ks_scene_line(scene, KS_LOOK_CHAMBER, (ks_point){f.x0, f.y0}, (ks_point){f.x0, f.y1});
    ks_scene_fitted(scene, KS_LOOK_STRONG, (ks_point){f.x1, f.y1 + 9.5}, KS_RIGHT, KS_SMALL,
                    chart->x_label, 60);
    ks_scene_fitted(scene, KS_LOOK_STRONG, (ks_point){f.x0 - 14, f.y0 - 4}, KS_LEFT, KS_SMALL,
                    chart->y_label, 40);
}

/* Dashed, dotted, or solid: the first of the solid ones thick, the others thin. */
static ks_look curve_look(const ks_chart *chart, int number)
{
    if (chart->curves[number].dashed)
        return KS_LOOK_CURVE_2;
    if (chart->curves[number].dotted)
        return KS_LOOK_CURVE_4;
    for (int i = 0; i < number; i++)
        if (!chart->curves[i].dashed && !chart->curves[i].dotted)
            return KS_LOOK_CURVE_3;
    return KS_LOOK_CURVE;
}

static void draw_curve(const axes *a, const ks_chart *chart, int number)
{
    const ks_curve *curve = &chart->curves[number];
    ks_path path = {0};
    bool pen_down = false;
    for (int i = 0; i < curve->n; i++) {
        if (!isfinite(curve->at[i].x) || !isfinite(curve->at[i].y)) {
            pen_down = false;
            continue;
        }
        ks_point p = on_paper(a, curve->at[i]);
        if (pen_down)
            ks_path_line(a->scene->arena, &path, p);
        else
            ks_path_move(a->scene->arena, &path, p);
        pen_down = true;
    }
    ks_scene_shape(a->scene, curve_look(chart, number), path);
}

static void draw_names(const axes *a, const ks_chart *chart)
{
    double x = a->frame.x0 + 8, y = a->frame.y0 - 4;
    for (int i = 0; i < chart->n_curves && x < a->frame.x1 - 20; i++) {
        const ks_curve *curve = &chart->curves[i];
        if (curve->n < 2) /* no line */
            continue;
        ks_look look = curve_look(chart, i);
        ks_scene_line(a->scene, look, (ks_point){x, y - 1.2}, (ks_point){x + 9, y - 1.2});
        x += 11 +
             ks_scene_fitted(a->scene, KS_LOOK_TEXT, (ks_point){x + 11, y}, KS_LEFT, KS_SMALL,
                             curve->name, a->frame.x1 - x - 11) +
             6;
    }
}

static void draw_chart(ks_scene *scene, const ks_chart *chart, ks_box box)
{
    axes a = axes_of(scene, chart, box);
    ks_scene_tag(scene, KS_TAG_FIGURE);
    draw_grid(&a, chart);
    for (int i = 0; i < chart->n_curves; i++)
        draw_curve(&a, chart, i);
    draw_names(&a, chart);
    ks_scene_tag(scene, KS_TAG_PARAGRAPH);
}

enum { LOG_LEAST = 6, PARAGRAPH_LINES = 4, CELL_LINES = 3 };
#define ROW_PITCH 5.4
#define CELL_GAP 3.0
#define CELL_LEAST 16.0 /* room for a pen where a cell is left empty */
#define LOG_PITCH 8.0   /* to be written in by a gloved hand */
#define NOTE_PITCH 4.2

/* Rows to be filled in as the firing goes, down to the foot of the sheet. */
static void draw_log(ks_scene *scene, const ks_chart *chart, double y, double bottom)
{
    static const double widths[KS_CHART_BLANKS] = {22, 26, 60, 48, 16};
    double x = KS_SHEET_LEFT, top = y - 3.6;
    for (int k = 0; k < KS_CHART_BLANKS; x += widths[k++])
        ks_scene_fitted(scene, KS_LOOK_FAINT, (ks_point){x + 1, y}, KS_LEFT, KS_SMALL,
                        chart->blanks[k], widths[k] - 2);
    y += 1.4;
    int rows = (int)((bottom - y) / LOG_PITCH);
    for (int i = 0; i <= rows; i++)
        ks_scene_line(scene, i == 0 ? KS_LOOK_LEADER : KS_LOOK_RULE,
                      (ks_point){KS_SHEET_LEFT, y + i * LOG_PITCH},
                      (ks_point){KS_SHEET_RIGHT, y + i * LOG_PITCH});
    x = KS_SHEET_LEFT;
    for (int k = 0; k + 1 < KS_CHART_BLANKS; k++) {
        x += widths[k];
        ks_scene_line(scene, KS_LOOK_RULE, (ks_point){x, top}, (ks_point){x, y + rows * LOG_PITCH});
    }
}

/* Each paragraph begins anew; returns where what comes after it may begin. */
static double draw_note(ks_scene *scene, const char *note, double y)
{
    for (; *note; note += *note == '\n') {
        size_t length = strcspn(note, "\n");
        y += NOTE_PITCH * ks_scene_wrap(scene, KS_LOOK_TEXT, (ks_point){KS_SHEET_LEFT, y}, KS_SMALL,
                                        KS_SHEET_RIGHT - KS_SHEET_LEFT, PARAGRAPH_LINES, NOTE_PITCH,
                                        ks_arena_text_n(scene->arena, note, length));
        y += 0.8;
        note += length;
    }
    return y;
}

static ks_scene *begin_chart(ks_sheets *sheets, const ks_chart *chart, const char *name,
                             const char *title)
{
    const ks_facts *facts =
        chart->plan ? ks_facts_of(chart->plan, chart->load, sheets->hash, false, sheets->arena)
                    : NULL;
    return ks_sheet_begin_framed(sheets, facts, (ks_heading){name, title, "", ks_tr("Chart")},
                                 KS_FRAME_TALL);
}

static double cell_width(ks_scene *scene, const ks_chart *chart, int k)
{
    double most = 0;
    for (int i = 0; i < chart->n_rows; i++)
        most = fmax(most, ks_scene_measure(scene, KS_LOOK_TEXT, KS_SMALL, chart->rows[i].cell[k]));
    return most == 0 ? 0 : k == 0 ? most + CELL_GAP : fmax(most + CELL_GAP, CELL_LEAST);
}

/* As wide as what stands in them, and what is left shared out; too wide, and the widest wraps. */
static void fit_columns(ks_scene *scene, const ks_chart *chart, double widths[KS_CHART_CELLS])
{
    double left = KS_SHEET_RIGHT - KS_SHEET_LEFT;
    int widest = 0, used = 0;
    for (int k = 0; k < KS_CHART_CELLS; k++) {
        widths[k] = cell_width(scene, chart, k);
        left -= widths[k];
        widest = widths[k] > widths[widest] ? k : widest;
        used += k > 0 && widths[k] > 0;
    }
    if (left < 0)
        widths[widest] += left;
    for (int k = 1; k < KS_CHART_CELLS && left > 0; k++)
        widths[k] += widths[k] > 0 ? left / used : 0;
}

static int row_lines(ks_scene *scene, const ks_chart_row *row, const double *widths)
{
    int most = 1;
    for (int k = 0; k < KS_CHART_CELLS; k++)
        if (*row->cell[k])
            most = (int)fmax(most, ks_scene_lines(scene, KS_LOOK_TEXT, KS_SMALL,
                                                  widths[k] - CELL_GAP, row->cell[k]));
    return most < CELL_LINES ? most : CELL_LINES;
}

static double draw_row(ks_scene *scene, const ks_chart *chart, int i, const double *widths,
                       double y)
{
    double x = KS_SHEET_LEFT;
    double bottom = y + (row_lines(scene, &chart->rows[i], widths) - 1) * NOTE_PITCH;
    for (int k = 0; k < KS_CHART_CELLS; x += widths[k++])
        if (*chart->rows[i].cell[k])
            ks_scene_wrap(scene, i == 0 ? KS_LOOK_FAINT : KS_LOOK_TEXT, (ks_point){x, y}, KS_SMALL,
                          widths[k] - CELL_GAP, CELL_LINES, NOTE_PITCH, chart->rows[i].cell[k]);
    ks_scene_line(scene, i == 0 ? KS_LOOK_LEADER : KS_LOOK_RULE,
                  (ks_point){KS_SHEET_LEFT, bottom + 1.4},
                  (ks_point){KS_SHEET_RIGHT, bottom + 1.4});
    return bottom + ROW_PITCH;
}

/* The sheet's rows; those it has no room for stand on one of their own. Returns the sheet that
 * holds the last, and in *y where it ends. */
static ks_scene *draw_rows(ks_sheets *sheets, ks_scene *scene, const ks_chart *chart, int nth,
                           double *y)
{
    double widths[KS_CHART_CELLS];
    ks_box room = ks_sheet_room(KS_FRAME_TALL);
    fit_columns(scene, chart, widths);
    for (int i = 0, more = 1; i < chart->n_rows; i++) {
        int lines = row_lines(scene, &chart->rows[i], widths);
        if (*y + (lines - 1) * NOTE_PITCH + 2 > room.y1) {
            scene = begin_chart(sheets, chart,
                                ks_arena_print(sheets->arena, "chart-%d-%d", nth, ++more),
                                ks_arena_print(sheets->arena, "%s, continued", chart->title));
            *y = draw_row(scene, chart, 0, widths, room.y0 + 6);
        }
        *y = draw_row(scene, chart, i, widths, *y);
    }
    return scene;
}

/* Where the rest of the sheet has too few rows, the log has a sheet of its own. */
static void put_log(ks_sheets *sheets, ks_scene *scene, const ks_chart *chart, int nth, double y)
{
    ks_box room = ks_sheet_room(KS_FRAME_TALL);
    if (y + LOG_LEAST * LOG_PITCH > room.y1) {
        scene = begin_chart(sheets, chart, ks_arena_print(sheets->arena, "chart-%d-log", nth),
                            ks_arena_print(sheets->arena, "%s: log", chart->title));
        y = room.y0 + 6;
    }
    draw_log(scene, chart, y, room.y1);
}

void ks_chart_sheet(ks_sheets *sheets, const ks_chart *chart, int nth)
{
    const char *note = chart->note ? chart->note : "";
    double height = chart->n_rows > 0 ? 78 : 134;
    ks_scene *scene =
        begin_chart(sheets, chart, ks_arena_print(sheets->arena, "chart-%d", nth), chart->title);
    scene->about = ks_type_clean(sheets->arena, note);
    double y = ks_sheet_room(KS_FRAME_TALL).y0 + 4;
    draw_chart(scene, chart, (ks_box){KS_SHEET_LEFT, y, KS_SHEET_RIGHT, y + height});
    y = draw_note(scene, note, y + height + 4);
    y += 3.5;
    if (chart->n_rows > 0)
        scene = draw_rows(sheets, scene, chart, nth, &y);
    if (chart->blanks[0])
        put_log(sheets, scene, chart, nth, y + 3);
}

ks_scene *ks_chart_scene(ks_sheets *sheets, const ks_chart *chart, double width_mm,
                         double height_mm)
{
    ks_scene *scene =
        ks_scene_create(sheets->arena, sheets->type, fmax(width_mm, 60), fmax(height_mm, 45));
    scene->title = ks_type_clean(sheets->arena, chart->title);
    scene->about = ks_type_clean(sheets->arena, chart->note ? chart->note : "");
    draw_chart(scene, chart, (ks_box){0, 0, scene->width_mm, scene->height_mm});
    return scene;
}

const char *ks_chart_svg(const ks_chart *chart, double width_mm, double height_mm, ks_arena *arena,
                         ks_error *err)
{
    ks_sheets sheets = {.arena = arena};
    if (ks_type_create(arena, NULL, &sheets.type, err) != KS_OK)
        return NULL;
    ks_text out = {.arena = arena};
    ks_svg_styled(ks_chart_scene(&sheets, chart, width_mm, height_mm), &out);
    ks_type_destroy(sheets.type);
    return ks_text_end(&out);
}
