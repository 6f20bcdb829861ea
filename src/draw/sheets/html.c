#include "draw/scene/canvas.h"
#include "draw/scene/embedded.h"
#include "draw/sheets/sheets.h"
#include "studio/left_out.h"

#include <math.h>
#include <string.h>

/* Written so that it is XML as well as HTML, and no reader has to guess. */
typedef struct {
    ks_sheets *sheets;
    ks_text *out;
    const char *only; /* owner's id: only their pieces; NULL = all */
    int step;         /* counted over all loads */
} page;

static void escape(const page *p, const char *text)
{
    ks_escape_drawn(p->out, ks_type_clean(p->sheets->arena, text));
}

static void element(const page *p, const char *open, const char *text, const char *close)
{
    ks_text_add(p->out, open);
    escape(p, text);
    ks_text_add(p->out, close);
}

static const char *or_empty(const char *text)
{
    return text ? text : "";
}

static void put_head(const page *p, const char *title)
{
    ks_text_print(p->out,
                  "<!DOCTYPE html>\n<html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"%s\">\n",
                  ks_language());
    ks_text_add(p->out,
                "<head>\n"
                "<meta charset=\"utf-8\"/>\n"
                "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
                "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
                "style-src 'unsafe-inline'; script-src 'unsafe-inline'\"/>\n"
                "<link rel=\"icon\" href=\"data:,\"/>\n");
    element(p, "<title>", title, "</title>\n<style>\n");
    ks_text_add_n(p->out, (const char *)ks_page_style, ks_page_style_size);
    ks_svg_rules(p->out);
    ks_text_add(p->out, "</style>\n</head>\n");
}

/* The level as it fits a telephone: 120 mm of drawing over the screen's width, so that the numbers
 * are 16 px and more on the smallest. */
static void put_figure(const page *p, const ks_facts *facts, const ks_level_facts *level)
{
    const double width = 124, inner = 112;
    ks_box all = facts->extent;
    double scale = inner / (all.x1 - all.x0), height = (all.y1 - all.y0) * scale + 30;
    ks_scene *scene = ks_scene_create(p->sheets->arena, p->sheets->type, width, height);
    scene->title = ks_arena_print(p->sheets->arena, "%s from above", level->name);
    scene->about =
        ks_arena_print(p->sheets->arena,
                       "%s, the operator's side below. The list after it says the same in words.",
                       ks_contents_words(level, p->sheets->arena));
    ks_view view = {{width / 2 - (all.x0 + all.x1) / 2 * scale, 13 + all.y1 * scale}, scale};
    ks_level_shown shown = {
        facts, 1, &level, p->only, true, INT_MAX, {-INFINITY, -INFINITY, INFINITY, INFINITY}};
    int lost =
        ks_level_draw(scene, &shown, view, (ks_box){0.5, 0.5, width - 0.5, height - 0.5}).lost;
    ks_text_print(p->out, "<figure id=\"load-%d-level-%d\">\n", facts->index + 1,
                  (int)(level - facts->levels) + 1);
    ks_svg_inline(scene, p->out);
    if (lost > 0)
        element(p, "<figcaption>",
                ks_say_count(lost, "number has no room in the drawing; the list has it.",
                             "numbers have no room in the drawing; the list has them.",
                             p->sheets->arena),
                "</figcaption>\n");
    ks_text_add(p->out, "</figure>\n");
}

static void words_step(const page *p, const char *words)
{
    ks_text_print(p->out, "<li class=\"other\" id=\"s%d\"><label><input type=\"checkbox\"/>",
                  p->step);
    element(p, "<span class=\"say\">", words, "</span></label></li>\n");
}

static void piece_step(const page *p, const ks_facts *facts, const ks_item *item)
{
    ks_arena *arena = p->sheets->arena;
    const char *who = item->owner >= 0 ? facts->owners[item->owner].words : "";
    const char *more = ks_say_join(arena, "; ", item->where, item->remark);
    more = ks_say_join(
        arena, " · ", more,
        ks_arena_print(arena, "%s high", ks_say_both(facts->display, item->placed->top_mm, arena)));
    more = ks_say_join(arena, " · ", more, item->glaze);
    ks_text_print(p->out, "<li id=\"s%d\" data-level=\"load-%d-level-%d\"", p->step,
                  facts->index + 1, item->level + 1);
    if (item->owner >= 0)
        ks_text_print(p->out, " data-piece=\"%d\"", item->number);
    element(p, "><label><input type=\"checkbox\"/><span class=\"no\">", item->mark, "</span>");
    element(p, "<span><span class=\"say name\"><bdi>", item->name, "</bdi></span>");
    element(p, "<span class=\"more\">", more, "</span>");
    element(p, "<span class=\"more\"><bdi>", who, "</bdi></span></span></label></li>\n");
}

static bool is_told(const page *p, const ks_facts *facts, const ks_told_step *step)
{
    if (!p->only)
        return true;
    return step->of && step->of->owner >= 0 &&
           strcmp(facts->owners[step->of->owner].id, p->only) == 0;
}

/* Steps that follow each other on one level stand under one heading, with its drawing the first
 * time. Posts on the floor belong to the first shelf. */
static void put_steps(page *p, const ks_facts *facts)
{
    bool *drawn = KS_TAKE(p->sheets->arena, facts->n_levels + 1, bool);
    int under = -2;
    for (int i = 0; i < facts->n_steps; i++) {
        const ks_told_step *step = &facts->steps[i];
        if (!is_told(p, facts, step))
            continue;
        int level = step->level < 0 ? facts->n_levels > 0 ? 0 : -1 : step->level;
        if (level != under) {
            ks_text_add(p->out, under == -2 ? "" : "</ol>\n</section>\n");
            element(p, "<section>\n<h3>", level < 0 ? "Floor" : facts->levels[level].name,
                    "</h3>\n");
            if (level >= 0 && !drawn[level])
                put_figure(p, facts, &facts->levels[level]);
            if (level >= 0)
                drawn[level] = true;
            ks_text_print(p->out, "<ol class=\"steps\" start=\"%d\">\n", p->step + 1);
            under = level;
        }
        p->step++;
        if (step->of)
            piece_step(p, facts, step->of);
        else
            words_step(p, step->words);
    }
    ks_text_add(p->out, under == -2 ? "<p>Nothing goes in.</p>\n" : "</ol>\n</section>\n");
}

static void put_waiting(const page *p, const ks_plan *plan)
{
    if (plan->n_left_out == 0)
        return;
    element(p, "<h2>", ks_tr("What waits, and why"), "</h2>\n");
    element(p, "<table><thead><tr><th>", ks_tr("Piece"), "</th>");
    element(p, "<th>", ks_tr("Why"), "</th>");
    element(p, "<th>", ks_tr("What would let it in"), "</th></tr></thead><tbody>\n");
    for (int i = 0; i < plan->n_left_out; i++) {
        const ks_left_out *left = &plan->left_out[i];
        bool known = left->piece >= 0 && left->piece < plan->order->n_pieces;
        const char *name = known ? plan->order->pieces[left->piece].name : left->id;
        ks_text_print(p->out, "<tr><td>%d × <bdi>", left->count);
        element(p, "", or_empty(name), "</bdi></td>");
        element(p, "<td>", ks_left_out_why(left, p->sheets->arena), "</td>");
        element(p, "<td>", ks_left_out_nearest(left, p->sheets->arena), "</td></tr>\n");
    }
    ks_text_add(p->out, "</tbody></table>\n");
}

static void put_charts(const page *p)
{
    const ks_draw_options *options = p->sheets->options;
    for (int i = 0; i < options->n_charts; i++) {
        const ks_chart *chart = &options->charts[i];
        element(p, "<h2>", chart->title, "</h2>\n<figure>\n");
        ks_svg_inline(ks_chart_scene(p->sheets, chart, 120, 80), p->out);
        element(p, "<figcaption>", or_empty(chart->note), "</figcaption>\n</figure>\n");
    }
}

static void put_table(const page *p, const ks_table *table)
{
    element(p, "<h2>", table->title, "</h2>\n<table><thead><tr>");
    for (int i = 0; i < table->n_columns; i++)
        element(p, "<th>", table->columns[i].head, "</th>");
    ks_text_add(p->out, "</tr></thead><tbody>\n");
    for (int row = 0; row < table->n_rows; row++) {
        ks_text_add(p->out, "<tr>");
        for (int i = 0; i < table->n_columns; i++)
            element(p, table->columns[i].right ? "<td class=\"right\">" : "<td>",
                    table->cells[row * table->n_columns + i], "</td>");
        ks_text_add(p->out, "</tr>\n");
    }
    element(p, "</tbody></table>\n<p>", or_empty(table->note), "</p>\n");
}

/* How many pieces of the load are the member's whose page it is. */
static int hers(const page *p, const ks_facts *facts)
{
    for (int i = 0; i < facts->n_owners; i++)
        if (strcmp(facts->owners[i].id, p->only) == 0)
            return facts->owners[i].pieces;
    return 0;
}

static void put_load(page *p, const ks_facts *facts)
{
    ks_arena *arena = p->sheets->arena;
    const char *day = ks_say_day(facts->load->day, arena);
    const char *all_words = ks_say_count(facts->n_ware, "piece", "pieces", arena);
    element(p, "<h2>",
            ks_say_join(arena, " · ", ks_arena_print(arena, "Load %d", facts->index + 1), day),
            "</h2>\n");
    element(p, "<p>",
            ks_arena_print(arena, "%s · %s · %s", facts->kiln,
                           p->only ? ks_arena_print(arena, "%d of %s", hers(p, facts), all_words)
                                   : all_words,
                           ks_say_count(facts->n_levels, "level", "levels", arena)),
            "</p>\n");
    put_steps(p, facts);
}

/* The script's words stand on the body, so that it needs none of its own. */
static void put_body(const page *p)
{
    /* A member's ticks are her own, not those of who loads the kiln. */
    element(p, "<body data-plan=\"",
            ks_arena_print(p->sheets->arena, "%.16s%s%s", p->sheets->hash, p->only ? "-" : "",
                           or_empty(p->only)),
            "\"");
    element(p, " data-next=\"", ks_tr("Next:"), "\"");
    element(p, " data-all=\"",
            p->only ? ks_tr("All that is yours is in.") : ks_tr("All in. Close the lid."), "\"");
    element(p, " data-lost=\"", ks_tr("(this device does not keep ticks)"), "\">\n");
}

static void put_foot(const page *p)
{
    element(p, "</main>\n<footer><p>",
            ks_arena_print(p->sheets->arena,
                           "Two people hold the same plan when these signs agree: %s",
                           p->sheets->hash),
            "</p></footer>\n");
    element(p, "<div class=\"bar\"><button class=\"back\" type=\"button\">", ks_tr("Back"),
            "</button><output></output>");
    element(p, "<button class=\"next\" type=\"button\">", ks_tr("Done, next"),
            "</button></div>\n<script>\n");
}

void ks_html(ks_sheets *sheets, ks_facts *const *facts, int n_loads, const char *only, ks_text *out)
{
    const ks_order *order = sheets->plan->order;
    page p = {sheets, out, only, 0};
    const char *title = *or_empty(order->title) ? order->title : ks_tr("Kiln load");
    put_head(&p, title);
    put_body(&p);
    element(&p, "<h1>", title, "</h1>\n");
    element(
        &p, "<p>",
        ks_say_join(sheets->arena, " · ", or_empty(order->studio), or_empty(sheets->options->date)),
        "</p>\n");
    element(&p, "<p>",
            ks_arena_print(sheets->arena, "Plan %.8s. In this order; tick each when it is in.",
                           sheets->hash),
            "</p>\n<main>\n");
    for (int i = 0; i < n_loads; i++)
        put_load(&p, facts[i]);
    put_waiting(&p, sheets->plan);
    put_charts(&p);
    for (int i = 0; i < sheets->options->n_tables; i++)
        put_table(&p, &sheets->options->tables[i]);
    put_foot(&p);
    ks_text_add_n(out, (const char *)ks_page_script, ks_page_script_size);
    ks_text_add(out, "</script>\n</body>\n</html>\n");
}
