/* Foot and slab of a form as cut from wet clay, full size, over as many sheets as that takes. */
#include "draw/sheets/flow.h"
#include "kilnstow/fit.h"
#include "studio/parts.h"

#include <math.h>

typedef struct {
    ks_sheets *sheets;
    const ks_facts *facts;
    const ks_item *item;
    ks_outline foot, slab; /* as they go in */
    double wet, slab_wet;  /* so much larger when wet */
    ks_box box;            /* of both, wet */
    int n_columns, n_rows;
} cut_form;

/* What a sheet shows of it, and where. */
static const ks_box pane = {10, 28, 170, 208};

static const ks_clay *clay_at(const cut_form *t, int place)
{
    return ks_clay_or_usual(t->facts->plan->order->clays, place);
}

static ks_box scaled_box(const ks_outline *shape, double factor)
{
    ks_box box = ks_outline_box(shape);
    return (ks_box){box.x0 * factor, box.y0 * factor, box.x1 * factor, box.y1 * factor};
}

static cut_form cut_form_of(ks_sheets *sheets, const ks_facts *facts, const ks_item *item)
{
    const ks_piece *piece = item->piece;
    const char *cone = facts->load->firing.cone;
    cut_form t = {.sheets = sheets, .facts = facts, .item = item};
    int slab_clay = piece->setter.clay >= 0 ? piece->setter.clay : piece->clay;
    t.foot = ks_parts_feet(piece->parts, piece->n_parts, false, sheets->arena);
    t.slab = ks_parts_feet(piece->parts, piece->n_parts, true, sheets->arena);
    t.wet = ks_fit_sure_wet_factor(clay_at(&t, piece->clay), piece->stage, cone);
    t.slab_wet = piece->has_setter
                     ? ks_fit_sure_wet_factor(clay_at(&t, slab_clay), piece->setter.stage, cone)
                     : t.wet;
    ks_box foot = scaled_box(&t.foot, t.wet), slab = scaled_box(&t.slab, t.slab_wet);
    t.box = (ks_box){fmin(foot.x0, slab.x0), fmin(foot.y0, slab.y0), fmax(foot.x1, slab.x1),
                     fmax(foot.y1, slab.y1)};
    t.n_columns = (int)ceil((t.box.x1 - t.box.x0) / (pane.x1 - pane.x0));
    t.n_rows = (int)ceil((t.box.y1 - t.box.y0) / (pane.y1 - pane.y0));
    return t;
}

static const char *length(const cut_form *t, double mm)
{
    return ks_say_both(t->facts->display, mm, t->sheets->arena);
}

static const char *size_words(const cut_form *t, const ks_outline *shape, double factor)
{
    ks_box box = scaled_box(shape, factor);
    return ks_arena_print(t->sheets->arena, "%s by %s", length(t, box.x1 - box.x0),
                          length(t, box.y1 - box.y0));
}

/* Water leaves both faces of a wall: down to a twentieth of it in 1.13 (wall / 2)^2 / D (J. Crank,
 * The Mathematics of Diffusion), D 5e-10 m2/s for a pottery clay (from memory), known to a factor
 * of three; and as long again, covered, while it shrinks (common practice, no source). */
static void dry_days(double wall_mm, int *least, int *most)
{
    const double day_s = 86400, d = 5e-10, half_m = wall_mm / 2000;
    double days = 2 * 1.13 * half_m * half_m / d / day_s;
    *least = (int)ceil(days);
    *most = (int)ceil(3 * days);
}

static void tell_drying(const cut_form *t, ks_flow *flow)
{
    ks_arena *arena = t->sheets->arena;
    double wall = t->item->piece->wall_mm * t->wet;
    int least, most, day = t->facts->load->day;
    if (!(wall > 0))
        return;
    dry_days(wall, &least, &most);
    ks_flow_words(flow, KS_LOOK_TEXT, 0,
                  ks_arena_print(arena,
                                 "Its wall of %s, wet, takes about %d to %d days from the last "
                                 "joint to bone dry: half of that covered, while it shrinks. A "
                                 "guess; it is dry when it no longer feels cool.",
                                 length(t, wall), least, most));
    if (day != KS_NO_DAY)
        ks_flow_words(flow, KS_LOOK_STRONG, 0,
                      ks_arena_print(arena, "For the firing of %s it is joined by %s%s.",
                                     ks_say_day(day, arena), ks_say_day(day - most, arena),
                                     t->item->piece->stage >= KS_BISQUE
                                         ? ks_tr(", or earlier by the bisque firing before it")
                                         : ""));
}

/* Each by its number, of wet clay. */
static void tell_joints(const cut_form *t, ks_flow *flow)
{
    const ks_piece *piece = t->item->piece;
    ks_arena *arena = t->sheets->arena;
    for (int i = 0; i < piece->n_joints; i++)
        ks_flow_words(flow, KS_LOOK_TEXT, 0,
                      ks_arena_print(arena, "Joint %d: %s above its foot.", i + 1,
                                     length(t, t->wet * piece->joints_mm[i])));
}

/* Whether the edge of either outline, a hundredth of a millimetre fine, comes into the pane. */
static bool shows(const cut_form *t, ks_view view)
{
    const ks_outline *shapes[] = {&t->foot, &t->slab};
    const double factors[] = {t->wet, t->slab_wet};
    for (int s = 0; s < 2; s++) {
        view.scale = factors[s];
        ks_path path = ks_trace_outline(t->sheets->arena, view, shapes[s]);
        ks_polygon flat = ks_flat(t->sheets->arena, &path);
        for (int i = 0; i < flat.n; i++)
            if (ks_segment_meets_box(flat.at[i], flat.at[(i + 1) % flat.n], pane))
                return true;
    }
    return false;
}

static ks_view tile_view(const cut_form *t, int column, int row)
{
    double width = pane.x1 - pane.x0, height = pane.y1 - pane.y0;
    return (ks_view){
        .scale = 1,
        .origin = {pane.x0 - t->box.x0 - column * width, pane.y0 + t->box.y1 - row * height}};
}

static int tiles_of(const cut_form *t)
{
    int n = 0;
    for (int row = 0; row < t->n_rows; row++)
        for (int column = 0; column < t->n_columns; column++)
            n += shows(t, tile_view(t, column, row));
    return n;
}

/* Of a large foot the middle is bare: no sheet is printed of what has no line on it. */
static const char *tiles_words(const cut_form *t)
{
    ks_arena *arena = t->sheets->arena;
    int n = tiles_of(t), all = t->n_columns * t->n_rows;
    const char *some =
        n < all ? ks_arena_print(arena, " The %d that no line crosses are left out.", all - n) : "";
    return ks_arena_print(arena,
                          "%d × %d sheets follow, A1 at the upper left. Print them at 100 "
                          "%%, check the ruler, and join them along the thin frames.%s",
                          t->n_columns, t->n_rows, some);
}

static void tell_template(const cut_form *t)
{
    ks_arena *arena = t->sheets->arena;
    const ks_piece *piece = t->item->piece;
    ks_heading heading = {
        ks_arena_print(arena, "template-%d", t->item->number),
        ks_arena_print(arena, "%s: %s to be built", t->item->full_mark, t->item->name),
        ks_tr("sizes of wet clay; foot and slab full size on the sheets after "
              "this"),
        ks_tr("Building template")};
    ks_flow flow = ks_flow_begin(t->sheets, t->facts, heading);
    ks_flow_title(&flow, ks_tr("As made from wet clay"), 10);
    ks_flow_words(&flow, KS_LOOK_TEXT, 0,
                  ks_arena_print(arena,
                                 "Foot: %s, the dashed line. The form: %s high. No larger, even if "
                                 "the clay shrinks as little as it may.",
                                 size_words(t, &t->foot, t->wet),
                                 length(t, t->wet * (piece->height_mm - piece->setter_mm))));
    if (piece->has_setter)
        ks_flow_words(&flow, KS_LOOK_TEXT, 0,
                      ks_arena_print(arena, "Its %s: %s, %s thick, the chain line.",
                                     ks_tr(ks_part_kind_name(piece->setter.kind)),
                                     size_words(t, &t->slab, t->slab_wet),
                                     length(t, t->slab_wet * piece->setter.thickness_mm)));
    tell_joints(t, &flow);
    tell_drying(t, &flow);
    ks_flow_words(&flow, KS_LOOK_TEXT, 0, tiles_words(t));
    ks_scale_bar(flow.scene, flow.y + 4, 1);
}

static void shape(const cut_form *t, ks_scene *scene, ks_look look, const ks_outline *outline,
                  ks_view view, double factor)
{
    view.scale = factor;
    ks_scene_shape(scene, look, ks_trace_outline(t->sheets->arena, view, outline));
}

static void tile(const cut_form *t, int column, int row)
{
    ks_arena *arena = t->sheets->arena;
    ks_view view = tile_view(t, column, row);
    if (!shows(t, view))
        return;
    const char *name = ks_arena_print(arena, "%c%d", 'A' + column % 26, row + 1);
    ks_heading heading = {
        ks_arena_print(arena, "template-%d-%s", t->item->number, name),
        ks_arena_print(arena, "%s: %s, %s", t->item->full_mark, t->item->name, name),
        ks_tr("full size, wet: the foot in a dashed line, what it stands on in a chain line"),
        ks_tr("Building template")};
    ks_scene *scene = ks_sheet_begin(t->sheets, t->facts, heading);
    ks_scene_box(scene, KS_LOOK_RULE, pane);
    ks_scene_tag(scene, KS_TAG_FIGURE);
    scene->clipping = scene->has_clip = true;
    scene->clip = pane;
    if (t->item->piece->has_setter)
        shape(t, scene, KS_LOOK_SETTER, &t->slab, view, t->slab_wet);
    shape(t, scene, KS_LOOK_FOOT, &t->foot, view, t->wet);
    scene->clipping = false;
    ks_scene_tag(scene, KS_TAG_PARAGRAPH);
    ks_scene_words(scene, KS_LOOK_TEXT, (ks_point){pane.x0 + 2, pane.y1 - 2}, KS_LEFT, KS_LARGE,
                   name);
    ks_scale_bar(scene, pane.y1 + 4, 1);
}

void ks_template_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    for (int i = 0; i < facts->n_items; i++) {
        const ks_piece *piece = facts->items[i].piece;
        if (!piece || piece->n_parts == 0 || !(piece->has_setter || facts->n_ware == 1))
            continue;
        cut_form t = cut_form_of(sheets, facts, &facts->items[i]);
        tell_template(&t);
        for (int row = 0; row < t.n_rows; row++)
            for (int column = 0; column < t.n_columns; column++)
                tile(&t, column, row);
    }
}
