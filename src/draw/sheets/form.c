#include "draw/sheets/flow.h"
#include "studio/shelf_strength.h"

#include <math.h>

/* A form on its setter, in the piece's own axes. */
typedef struct {
    ks_flow *flow;
    const ks_piece *piece;
    const ks_item *item;
    ks_box slab; /* of everything seen from above */
    int under;
    ks_view view;
    ks_box on_paper;
} form;

static ks_box extent_of(const ks_piece *piece)
{
    ks_box box = ks_extent(&piece->parts[0].outline);
    for (int i = 1; i < piece->n_parts; i++) {
        ks_box part = ks_extent(&piece->parts[i].outline);
        box = (ks_box){fmin(box.x0, part.x0), fmin(box.y0, part.y0), fmax(box.x1, part.x1),
                       fmax(box.y1, part.y1)};
    }
    return box;
}

static bool is_form(ks_part_kind kind)
{
    return kind == KS_PART_BODY || kind == KS_PART_FOOT;
}

static ks_path trace(const form *f, const ks_outline *shape)
{
    return ks_trace_outline(f->flow->sheets->arena, f->view, shape);
}

static bool is_level(ks_point a, ks_point b)
{
    return fabs(a.y - b.y) < 0.01;
}

void ks_dimension_line(ks_scene *scene, ks_point a, ks_point b)
{
    bool level = is_level(a, b);
    const double tick = 1.2;
    ks_scene_line(scene, KS_LOOK_SIZE, a, b);
    for (int i = 0; i < 2; i++) {
        ks_point p = i ? b : a;
        ks_scene_line(scene, KS_LOOK_SIZE,
                      (ks_point){p.x - (level ? 0 : tick), p.y - (level ? tick : 0)},
                      (ks_point){p.x + (level ? 0 : tick), p.y + (level ? tick : 0)});
    }
}

void ks_dimension(ks_scene *scene, ks_point a, ks_point b, const char *words)
{
    ks_dimension_line(scene, a, b);
    if (is_level(a, b))
        ks_scene_words(scene, KS_LOOK_TEXT, (ks_point){(a.x + b.x) / 2, a.y + 4.4}, KS_MIDDLE,
                       KS_SMALL, words);
    else
        ks_scene_words(scene, KS_LOOK_TEXT, (ks_point){a.x + 2.4, (a.y + b.y) / 2 + 1.2}, KS_LEFT,
                       KS_SMALL, words);
}

static void seen_from_above(form *f)
{
    ks_scene *scene = f->flow->scene;
    const ks_display *display = f->flow->facts->display;
    ks_arena *arena = f->flow->sheets->arena;
    for (int pass = 0; pass < 3; pass++)
        for (int i = 0; i < f->piece->n_parts; i++) {
            const ks_part *part = &f->piece->parts[i];
            if (pass < 2 && is_form(part->kind))
                ks_scene_shape(scene, pass == 0 ? KS_LOOK_BODY_EDGE : KS_LOOK_BODY,
                               trace(f, &part->outline));
            if (pass == 2 && (part->kind == KS_PART_FOOT || part->from_mm == 0))
                ks_scene_shape(scene, KS_LOOK_FOOT, trace(f, &part->outline));
            if (pass == 2 && !is_form(part->kind) && part->kind != KS_PART_GROG)
                ks_scene_shape(scene, KS_LOOK_SETTER, trace(f, &part->outline));
        }
    ks_box p = f->on_paper;
    ks_dimension(scene, (ks_point){p.x0, p.y1 + 3}, (ks_point){p.x1, p.y1 + 3},
                 ks_say_both(display, f->slab.x1 - f->slab.x0, arena));
    ks_dimension(scene, (ks_point){p.x1 + 3, p.y0}, (ks_point){p.x1 + 3, p.y1},
                 ks_say_both(display, f->slab.y1 - f->slab.y0, arena));
    f->flow->y = p.y1 + 12;
}

enum { STEPS_MOST = 6 };

static const char *layer_name(const ks_setter *setter, ks_part_kind kind)
{
    if (kind == KS_PART_GROG)
        return setter->bed_material && *setter->bed_material ? setter->bed_material : ks_tr("grog");
    return is_form(kind) ? ks_tr("form") : ks_tr(ks_part_kind_name(kind));
}

/* What ends at this height: a layer of the setter, one of the form's joints by number, its top, or
 * a step in it. */
static const char *end_name(const form *f, double z_mm)
{
    const ks_part *part = NULL;
    for (int i = 0; i < f->piece->n_joints; i++)
        if (fabs(f->piece->setter_mm + f->piece->joints_mm[i] - z_mm) < 1)
            return ks_arena_print(f->flow->sheets->arena, "joint %d", i + 1);
    for (int i = 0; i < f->piece->n_parts; i++)
        if (fabs(f->piece->parts[i].to_mm - z_mm) < 0.5)
            part = &f->piece->parts[i];
    if (part && !is_form(part->kind))
        return ks_arena_print(f->flow->sheets->arena, "top of %s",
                              layer_name(&f->piece->setter, part->kind));
    return z_mm > f->piece->height_mm - 0.5 ? ks_tr("top of form") : ks_tr("step of form");
}

static bool is_step(const form *f, const ks_part *part)
{
    return is_form(part->kind) && part->to_mm < f->piece->height_mm - 0.5;
}

/* Many steps are those of a curve that was cut into blocks: nobody has made or measures them. */
static bool is_curved(const form *f)
{
    int steps = 0;
    for (int i = 0; i < f->piece->n_parts; i++)
        steps += is_step(f, &f->piece->parts[i]);
    return steps > STEPS_MOST;
}

/* The next end of a part, or joint, above a height; infinity = none. */
static double next_end(const form *f, double above_mm)
{
    double next = INFINITY;
    bool curved = is_curved(f);
    for (int i = 0; i < f->piece->n_parts; i++)
        if (f->piece->parts[i].to_mm > above_mm && !(curved && is_step(f, &f->piece->parts[i])))
            next = fmin(next, f->piece->parts[i].to_mm);
    for (int i = 0; i < f->piece->n_joints; i++)
        if (f->piece->setter_mm + f->piece->joints_mm[i] > above_mm)
            next = fmin(next, f->piece->setter_mm + f->piece->joints_mm[i]);
    return next;
}

static void joints_from_the_side(const form *f, double floor_y)
{
    for (int i = 0; i < f->piece->n_joints; i++) {
        double z = f->piece->setter_mm + f->piece->joints_mm[i];
        double y = floor_y - z * f->view.scale;
        ks_scene_line(f->flow->scene, KS_LOOK_FOOT, (ks_point){f->on_paper.x0 - 3, y},
                      (ks_point){f->on_paper.x1 + 1, y});
    }
}

/* Heights above the shelf at the right, moved apart where layers are thin. */
static void heights(form *f, double floor_y)
{
    const double pitch = 4.4;
    ks_scene *scene = f->flow->scene;
    ks_arena *arena = f->flow->sheets->arena;
    double last = floor_y + 1.2 + pitch, done = 0;
    for (double next = next_end(f, 0); isfinite(next) && last - pitch >= KS_SHEET_TOP;
         next = next_end(f, done + 0.5)) {
        done = next;
        double y = floor_y - done * f->view.scale, at = fmin(y + 1.2, last - pitch);
        ks_scene_line(scene, KS_LOOK_LEADER, (ks_point){f->on_paper.x1 + 1, y},
                      (ks_point){f->on_paper.x1 + 6, at - 1.2});
        ks_scene_fitted(scene, KS_LOOK_TEXT, (ks_point){f->on_paper.x1 + 7, at}, KS_LEFT, KS_SMALL,
                        ks_arena_print(arena, "%s  %s",
                                       ks_say_both(f->flow->facts->display, done, arena),
                                       end_name(f, done)),
                        KS_SHEET_RIGHT - f->on_paper.x1 - 7);
        last = at;
    }
}

static void part_from_the_side(form *f, const ks_part *part, double floor_y, int pass)
{
    ks_box seen = ks_extent(&part->outline);
    double x0 = f->view.origin.x + seen.x0 * f->view.scale,
           x1 = f->view.origin.x + seen.x1 * f->view.scale;
    ks_box box = {x0, floor_y - part->to_mm * f->view.scale, x1,
                  floor_y - part->from_mm * f->view.scale};
    if (part->kind == KS_PART_GROG) {
        ks_polygon shape = {
            4,
            (ks_point[]){{box.x0, box.y0}, {box.x1, box.y0}, {box.x1, box.y1}, {box.x0, box.y1}}};
        if (pass == 1)
            ks_hatch(f->flow->scene, &shape, 3);
        if (pass == 1)
            ks_scene_box(f->flow->scene, KS_LOOK_RIM, box);
        return;
    }
    if (pass == 0 && is_form(part->kind))
        ks_scene_box(f->flow->scene, KS_LOOK_BODY_EDGE, box);
    if (pass == 1)
        ks_scene_box(f->flow->scene, is_form(part->kind) ? KS_LOOK_BODY : KS_LOOK_BLANK, box);
}

static void seen_from_the_front(form *f)
{
    double floor_y = f->flow->y + f->piece->height_mm * f->view.scale;
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < f->piece->n_parts; i++)
            part_from_the_side(f, &f->piece->parts[i], floor_y, pass);
    ks_scene_box(f->flow->scene, KS_LOOK_SOLID,
                 (ks_box){f->on_paper.x0 - 4, floor_y, f->on_paper.x1 + 4, floor_y + 0.8});
    joints_from_the_side(f, floor_y);
    heights(f, floor_y);
    f->flow->y = floor_y + 4;
}

static const char *clay_words(const ks_facts *facts, const ks_piece *piece, ks_arena *arena)
{
    int clay = piece->setter.clay >= 0 ? piece->setter.clay : piece->clay;
    bool known = clay >= 0 && clay < facts->plan->order->n_clays;
    return known ? ks_arena_print(arena, "the clay \"%s\"", facts->plan->order->clays[clay].id)
                 : ks_tr("the form's own clay");
}

static void tell_making(form *f)
{
    const ks_setter *setter = &f->piece->setter;
    const ks_facts *facts = f->flow->facts;
    ks_arena *arena = f->flow->sheets->arena;
    const char *kind = ks_tr(ks_part_kind_name(setter->kind));
    const char *state =
        setter->stage_told
            ? ks_arena_print(arena, "It goes in %s.", ks_tr(ks_stage_name(setter->stage)))
            : ks_tr("Let it dry and bisque with its form, so that both shrink alike.");
    ks_flow_title(f->flow, ks_tr("How to make and bed it"), 20);
    ks_flow_words(f->flow, KS_LOOK_TEXT, 0,
                  ks_arena_print(arena, "1.  Cut the %s from %s, %s thick, to the chain line. %s",
                                 kind, clay_words(facts, f->piece, arena),
                                 ks_say_both(facts->display, setter->thickness_mm, arena), state));
    ks_flow_words(f->flow, KS_LOOK_TEXT, 0,
                  ks_arena_print(arena, "2.  %s", ks_setter_words(facts, f->item, arena)));
    ks_flow_words(f->flow, KS_LOOK_TEXT, 0,
                  ks_arena_print(arena,
                                 "3.  Spread dry grog damp or with a mask on: its dust harms the "
                                 "lungs. Keep it %s away from the shelf's edge and off ware below.",
                                 ks_say_both(facts->display, 20, arena)));
    ks_flow_words(f->flow, KS_LOOK_TEXT, 0,
                  ks_arena_print(arena,
                                 "4.  Lower the form straight down onto it. Nothing else stands on "
                                 "the %s, on its grog or against the form: both move.",
                                 kind));
}

/* Who lifts it, and what the shelves under it bear. */
static void tell_weight(form *f)
{
    const ks_facts *facts = f->flow->facts;
    ks_arena *arena = f->flow->sheets->arena;
    const char *who = ks_lifter_words(facts, f->item, arena);
    ks_flow_title(f->flow, ks_tr("Who lifts it, and what carries it"), 14);
    ks_flow_words(f->flow, KS_LOOK_TEXT, 0,
                  ks_arena_print(arena, "%s without its %s, which is laid first: %s.",
                                 ks_say_mass(facts->display, f->piece->bare_mass_kg, arena),
                                 ks_tr(ks_part_kind_name(f->piece->setter.kind)),
                                 *who ? who : ks_tr("one person may lift it in")));
    for (int s = 0; s < facts->load->levels[f->item->level].n_shelves; s++) {
        double part;
        const char *words = ks_shelf_words(facts, f->item->level, s, &part, arena);
        if (*words)
            ks_flow_words(
                f->flow, KS_LOOK_TEXT, 0,
                ks_arena_print(arena,
                               "Shelf %s carries %s that it bears in this firing, spread "
                               "over it.%s",
                               facts->load->levels[f->item->level].shelves[s].id, words,
                               part > 1 - ks_shelf_doubt ? ks_tr(" Take a flat, sound one.") : ""));
    }
}

static void tell_travel(form *f)
{
    const ks_facts *facts = f->flow->facts;
    ks_arena *arena = f->flow->sheets->arena;
    const ks_display *display = facts->display;
    ks_travel travel =
        ks_piece_travel(f->piece, facts->plan->order->clays, facts->load->firing.cone);
    ks_flow_title(f->flow, ks_tr("How far it moves in this firing"), 18);
    ks_flow_words(f->flow, KS_LOOK_TEXT, 0,
                  ks_arena_print(arena,
                                 "First outwards by %s. Then the farthest foot travels inwards by "
                                 "%s, at worst %s if one foot is held fast.",
                                 ks_say_fine(display, travel.outward_mm, arena),
                                 ks_say_fine(display, travel.expected_mm, arena),
                                 ks_say_fine(display, travel.worst_mm, arena)));
    ks_flow_words(
        f->flow, KS_LOOK_TEXT, 0,
        ks_arena_print(arena,
                       "The %s's rim travels %s over the shelf; the form's foot %s over the %s.",
                       ks_tr(ks_part_kind_name(f->piece->setter.kind)),
                       ks_say_fine(display, travel.slab_rim_mm, arena),
                       ks_say_fine(display, travel.form_on_slab_mm, arena),
                       ks_tr(ks_part_kind_name(f->piece->setter.kind))));
    if (travel.assumed)
        ks_flow_words(
            f->flow, KS_LOOK_TEXT, 0,
            ks_arena_print(arena,
                           "Nothing is told of how its clay shrinks: 8 to 15 %% in all is "
                           "taken, and so the foot may travel from %s to %s, the rim from "
                           "%s to %s. Fire a test bar.",
                           ks_say_fine(display, travel.expected_low_mm, arena),
                           ks_say_fine(display, travel.worst_high_mm, arena),
                           ks_say_fine(display, travel.slab_rim_low_mm, arena),
                           ks_say_fine(display, travel.slab_rim_high_mm, arena)));
}

/* The drawing with what is told under it; `room_mm` high at most. */
static void draw_form(ks_sheets *sheets, const ks_facts *facts, const ks_item *item, double room_mm)
{
    ks_arena *arena = sheets->arena;
    const ks_piece *piece = item->piece;
    const char *kind = ks_tr(ks_part_kind_name(piece->setter.kind));
    ks_heading heading = {
        ks_arena_print(arena, "form-%d", item->number),
        ks_arena_print(arena, "%s: %s on its %s", item->full_mark, item->name, kind),
        ks_arena_print(
            arena,
            "%s · sizes as it goes into this firing · above: from above, its own front below",
            facts->levels[item->level].name),
        ks_tr("Form on its setter")};
    ks_flow flow = ks_flow_begin_framed(sheets, facts, heading, KS_FRAME_TALL);
    form f = {.flow = &flow, .piece = piece, .item = item, .slab = extent_of(piece)};
    double w = f.slab.x1 - f.slab.x0, d = f.slab.y1 - f.slab.y0;
    f.under = ks_scale_under(w, d + piece->height_mm, 112, room_mm);
    f.view.scale = 1.0 / f.under;
    f.view.origin =
        (ks_point){14 - f.slab.x0 * f.view.scale, flow.y + 4 + f.slab.y1 * f.view.scale};
    ks_point low = ks_view_point(f.view, (ks_point){f.slab.x0, f.slab.y1});
    ks_point high = ks_view_point(f.view, (ks_point){f.slab.x1, f.slab.y0});
    f.on_paper = (ks_box){low.x, low.y, high.x, high.y};
    ks_scene_tag(flow.scene, KS_TAG_FIGURE);
    seen_from_above(&f);
    seen_from_the_front(&f);
    ks_scene_tag(flow.scene, KS_TAG_PARAGRAPH);
    ks_scale_bar(flow.scene, flow.y, f.under);
    flow.y += 12;
    tell_making(&f);
    tell_weight(&f);
    tell_travel(&f);
}

/* On one sheet, though the drawing be smaller for it. */
static void form_sheet(ks_sheets *sheets, const ks_facts *facts, const ks_item *item)
{
    static const double rooms_mm[] = {162, 100, 70, 162};
    const int before = sheets->n;
    for (int i = 0; i < 4 && (i == 0 || sheets->n > before + 1); i++) {
        sheets->n = before;
        draw_form(sheets, facts, item, rooms_mm[i]);
    }
}

void ks_form_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    for (int i = 0; i < facts->n_items; i++)
        if (facts->items[i].piece && facts->items[i].piece->has_setter &&
            facts->items[i].piece->n_parts > 0)
            form_sheet(sheets, facts, &facts->items[i]);
}
