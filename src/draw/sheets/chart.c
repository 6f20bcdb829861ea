#include "draw/scene/canvas.h"
#include "draw/sheets/sheets.h"

#include <math.h>

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
    draw_grid(&a, chart);
    for (int i = 0; i < chart->n_curves; i++)
        draw_curve(&a, chart, i);
    draw_names(&a, chart);
}

enum { ROWS_MOST = 20 };

/* Columns share the sheet's width, those to write in half as wide again. */
static void draw_rows(ks_scene *scene, const ks_chart *chart, double y0)
{
    int n = chart->n_rows < ROWS_MOST ? chart->n_rows : ROWS_MOST;
    double pitch = fmin(5.5, (KS_SHEET_BOTTOM - 3 - y0) / n);
    double unit = (KS_SHEET_RIGHT - KS_SHEET_LEFT) / (KS_CHART_CELLS + 1.5 * KS_CHART_BLANKS - 0.5);
    for (int i = 0; i < n; i++) {
        double y = y0 + pitch * i, x = KS_SHEET_LEFT;
        for (int k = 0; k < KS_CHART_CELLS + KS_CHART_BLANKS; k++) {
            double width = k == 0 ? 0.5 * unit : k < KS_CHART_CELLS ? unit : 1.5 * unit;
            const char *text = k < KS_CHART_CELLS ? chart->rows[i].cell[k]
                               : i == 0           ? chart->blanks[k - KS_CHART_CELLS]
                                                  : "";
            ks_scene_fitted(scene, KS_LOOK_TEXT, (ks_point){x, y}, KS_LEFT, KS_SMALL, text,
                            width - 1);
            x += width;
        }
        ks_scene_line(scene, KS_LOOK_RULE, (ks_point){KS_SHEET_LEFT, y + 1.3},
                      (ks_point){KS_SHEET_RIGHT, y + 1.3});
    }
    if (chart->n_rows > n)
        ks_scene_words(scene, KS_LOOK_TEXT, (ks_point){KS_SHEET_LEFT, KS_SHEET_BOTTOM - 0.5},
                       KS_LEFT, KS_SMALL,
                       ks_arena_print(scene->arena, "and %d segments more", chart->n_rows - n));
}

void ks_chart_sheet(ks_sheets *sheets, const ks_chart *chart, int nth)
{
    const char *note = chart->note ? chart->note : "";
    double height = chart->n_rows > 0 ? 104 : 134;
    ks_scene *scene = ks_sheet_begin(sheets, NULL,
                                     (ks_heading){ks_arena_print(sheets->arena, "chart-%d", nth),
                                                  chart->title, "", ks_tr("Chart")});
    scene->about = ks_type_clean(sheets->arena, note);
    draw_chart(scene, chart,
               (ks_box){KS_SHEET_LEFT, KS_SHEET_TOP + 4, KS_SHEET_RIGHT, KS_SHEET_TOP + height});
    ks_scene_wrap(scene, KS_LOOK_TEXT, (ks_point){KS_SHEET_LEFT, KS_SHEET_TOP + height + 8},
                  KS_SMALL, KS_SHEET_RIGHT - KS_SHEET_LEFT, chart->n_rows > 0 ? 5 : 12, 4.2, note);
    if (chart->n_rows > 0)
        draw_rows(scene, chart, KS_SHEET_TOP + height + 32);
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
    if (ks_type_create(arena, &sheets.type, err) != KS_OK)
        return NULL;
    ks_text out = {.arena = arena};
    ks_svg_styled(ks_chart_scene(&sheets, chart, width_mm, height_mm), &out);
    ks_type_destroy(sheets.type);
    return ks_text_end(&out);
}
