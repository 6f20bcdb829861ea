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

/* Where a level's heading is, for the links that lead to it: the floor is level 0. */
static void put_place(const page *p, const char *before, const ks_facts *facts, int level,
                      const char *after)
{
    ks_text_add(p->out, before);
    ks_text_print(p->out, "at-%d-%d", facts->index + 1, level + 1);
    ks_text_add(p->out, after);
}

static const char *heading_of(const ks_facts *facts, int level)
{
    return level < 0 ? ks_tr("Floor") : facts->levels[level].name;
}

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
    ks_text_print(p->out, "<!DOCTYPE html>\n<html lang=\"%s\">\n", ks_language());
    ks_text_add(p->out,
                "<head>\n"
                "<meta charset=\"utf-8\"/>\n"
                "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
                "<meta name=\"color-scheme\" content=\"light dark\"/>\n"
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

static void put_adult(const page *p, const ks_facts *facts, const ks_told_step *step)
{
    if (facts->for_class && *step->adult)
        element(p, "<strong class=\"more\">", ks_adult_words(step->adult, p->sheets->arena),
                "</strong>");
}

static void words_step(const page *p, const ks_facts *facts, const ks_told_step *step)
{
    ks_text_print(p->out, "<li class=\"other\" id=\"s%d\"><label><input type=\"checkbox\"/>",
                  p->step);
    element(p, "<span><span class=\"say\">", step->words, "</span>");
    put_adult(p, facts, step);
    ks_text_add(p->out, "</span></label></li>\n");
}

/* "2 left" as one word of the text that tells what is in. */
static const char *without_spaces(const char *words, ks_arena *arena)
{
    ks_text out = {.arena = arena};
    for (; *words; words++)
        if (*words != ' ')
            ks_text_add_n(&out, words, 1);
    return ks_text_end(&out);
}

static void piece_step(const page *p, const ks_facts *facts, const ks_told_step *step)
{
    const ks_item *item = step->of;
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
    element(p, " data-level-name=\"", without_spaces(facts->levels[item->level].bare_name, arena),
            "\"");
    element(p, "><label><input type=\"checkbox\"/><span class=\"no\">", item->mark, "</span>");
    element(p, "<span><span class=\"say name\"><bdi>", item->name, "</bdi></span>");
    put_adult(p, facts, step);
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

/* The level that a step stands under; posts on the floor belong to the first shelf. */
static int level_of(const ks_facts *facts, const ks_told_step *step)
{
    return step->level >= 0 ? step->level : facts->n_levels > 0 ? 0 : -1;
}

/* A heading with the way back to the list of levels, and the drawing the first time. */
static void begin_section(const page *p, const ks_facts *facts, int level, bool *begun)
{
    bool first = !begun[level + 1];
    begun[level + 1] = true;
    put_place(p, first ? "<section class=\"level\" id=\"" : "<section class=\"level\" data-more=\"",
              facts, level, "\">\n");
    element(p, "<div class=\"head\"><h3>", heading_of(facts, level), "</h3>");
    element(p, "<a href=\"#top\">", ks_tr("All levels"), "</a></div>\n");
    if (level >= 0 && first)
        put_figure(p, facts, &facts->levels[level]);
    ks_text_print(p->out, "<div class=\"work\"><ol class=\"steps\" start=\"%d\">\n", p->step + 1);
}

/* Ends with the way to what comes next, which is a level of the same load. */
static void end_section(const page *p, const ks_facts *facts, int next)
{
    ks_text_add(p->out, "</ol>\n");
    if (next >= -1) {
        put_place(p, "<p class=\"jump\"><a href=\"#", facts, next, "\">");
        element(p, "", heading_of(facts, next), "</a></p>\n");
    }
    ks_text_add(p->out, "</div>\n</section>\n");
}

/* Steps that follow each other on one level stand under one heading. */
static void put_steps(page *p, const ks_facts *facts)
{
    const int none = -2;
    bool *begun = KS_TAKE(p->sheets->arena, facts->n_levels + 1, bool);
    int under = none;
    for (int i = 0; i < facts->n_steps; i++) {
        const ks_told_step *step = &facts->steps[i];
        if (!is_told(p, facts, step))
            continue;
        int level = level_of(facts, step);
        if (level != under && under != none)
            end_section(p, facts, level);
        if (level != under)
            begin_section(p, facts, level, begun);
        under = level;
        p->step++;
        if (step->of)
            piece_step(p, facts, step);
        else
            words_step(p, facts, step);
    }
    if (under == none)
        element(p, "<p>", ks_tr("Nothing goes in."), "</p>\n");
    else
        end_section(p, facts, none);
}

/* A link to each load and to each of its levels that the page tells of. */
static void put_links(const page *p, ks_facts *const *loads, int n_loads)
{
    element(p, "<nav aria-label=\"", ks_tr("Loads and levels"), "\"><ul>\n");
    for (int i = 0; i < n_loads; i++) {
        const ks_facts *facts = loads[i];
        bool *linked = KS_TAKE(p->sheets->arena, facts->n_levels + 1, bool);
        ks_text_print(p->out, "<li><a href=\"#load-%d\">", facts->index + 1);
        element(p, "", ks_arena_print(p->sheets->arena, "Load %d", facts->index + 1), "</a>\n");
        for (int k = 0; k < facts->n_steps; k++) {
            int level = level_of(facts, &facts->steps[k]);
            if (linked[level + 1] || !is_told(p, facts, &facts->steps[k]))
                continue;
            linked[level + 1] = true;
            put_place(p, "<a href=\"#", facts, level, "\">");
            element(p, "", heading_of(facts, level), "</a>\n");
        }
        ks_text_add(p->out, "</li>\n");
    }
    if (!p->only)
        element(p, "<li><a href=\"#told\">", ks_tr("Tell what is in"), "</a></li>\n");
    ks_text_add(p->out, "</ul></nav>\n");
}

static void put_waiting(const page *p, const ks_plan *plan)
{
    if (plan->n_left_out == 0)
        return;
    element(p, "<h2>", ks_tr("What waits, and why"), "</h2>\n");
    element(p, "<table><thead><tr><th scope=\"col\">", ks_tr("Piece"), "</th>");
    element(p, "<th scope=\"col\">", ks_tr("Why"), "</th>");
    element(p, "<th scope=\"col\">", ks_tr("What would let it in"), "</th></tr></thead><tbody>\n");
    for (int i = 0; i < plan->n_left_out; i++) {
        const ks_left_out *left = &plan->left_out[i];
        bool known = left->piece >= 0 && left->piece < plan->order->n_pieces;
        const char *name = known ? plan->order->pieces[left->piece].name : left->id;
        ks_text_print(p->out, "<tr><td>%d × <bdi>", left->count);
        element(p, "", or_empty(name), "</bdi></td>");
        element(p, "<td>", ks_left_out_why(left, &plan->order->display, p->sheets->arena), "</td>");
        element(p, "<td>", ks_left_out_nearest(left, &plan->order->display, p->sheets->arena),
                "</td></tr>\n");
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
        element(p, "<th scope=\"col\">", ks_tr(table->columns[i].head), "</th>");
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
    ks_text_print(p->out, "<section class=\"load\" id=\"load-%d\" data-load=\"%d\">\n",
                  facts->index + 1, facts->index + 1);
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
    ks_text_add(p->out, "</section>\n");
}

/* The script's words stand on the body, so that it needs none of its own. */
static void put_body(const page *p)
{
    ks_arena *arena = p->sheets->arena;
    /* A member's ticks are her own, not those of who loads the kiln. */
    element(
        p, "<body data-plan=\"",
        ks_arena_print(arena, "%.16s%s%s", p->sheets->hash, p->only ? "-" : "", or_empty(p->only)),
        "\"");
    const struct {
        const char *name, *words;
    } said[] = {
        {"next", ks_tr("Next:")},
        {"all", p->only ? ks_tr("All that is yours is in.") : ks_tr("All in. Close the lid.")},
        {"lost", ks_tr("(this device does not keep ticks)")},
        {"copied", ks_tr("Copied.")},
        {"taken", ks_tr("Taken over.")},
        {"other", ks_tr("This text tells of another plan; nothing is changed:")},
        {"unknown", ks_tr("Not understood; nothing is changed:")}};
    for (size_t i = 0; i < sizeof said / sizeof *said; i++) {
        ks_text_print(p->out, " data-%s=\"", said[i].name);
        element(p, "", said[i].words, "\"");
    }
    ks_text_add(p->out, ">\n");
}

static void put_header(const page *p, const char *title, ks_facts *const *facts, int n_loads)
{
    const ks_order *order = p->sheets->plan->order;
    ks_arena *arena = p->sheets->arena;
    element(p, "<header id=\"top\">\n<h1>", title, "</h1>\n");
    element(p, "<p>",
            ks_say_join(arena, " · ", or_empty(order->studio), or_empty(p->sheets->options->date)),
            "</p>\n");
    element(p, "<p>",
            ks_arena_print(arena, "Plan %.8s. In this order; tick each when it is in.",
                           p->sheets->hash),
            "</p>\n");
    put_links(p, facts, n_loads);
    ks_text_add(p->out, "</header>\n");
}

/* Comes before the list, so that it is first in the order of tabs. */
static void put_bar(const page *p)
{
    element(p, "<div class=\"bar\"><button class=\"back\" type=\"button\">", ks_tr("Back"),
            "</button><output></output>");
    element(p, "<button class=\"next\" type=\"button\">", ks_tr("Done, next"), "</button></div>\n");
}

/* What is in, as one short text to hand on, and where another's is read. */
static void put_told(const page *p)
{
    element(p, "<section class=\"told\" id=\"told\">\n<h2>", ks_tr("Tell what is in"), "</h2>\n");
    element(p, "<p><label for=\"tell\">",
            ks_tr("Everything is in but what this names by level and number:"), "</label></p>\n");
    element(p,
            "<textarea id=\"tell\" rows=\"2\" readonly=\"readonly\"></textarea>\n"
            "<p><button class=\"copy\" type=\"button\">",
            ks_tr("Copy"), "</button></p>\n");
    element(p, "<p><label for=\"hear\">",
            ks_tr("What another phone told, typed or pasted; it replaces the ticks here:"),
            "</label></p>\n");
    element(p,
            "<textarea id=\"hear\" rows=\"2\" autocapitalize=\"off\" spellcheck=\"false\">"
            "</textarea>\n<p><button class=\"hear\" type=\"button\">",
            ks_tr("Take over"), "</button> <output></output></p>\n</section>\n");
}

static void put_foot(const page *p)
{
    element(p, "</main>\n<footer><p>",
            ks_arena_print(p->sheets->arena,
                           "Two people hold the same plan when these signs agree: %s",
                           p->sheets->hash),
            "</p></footer>\n<script>//<![CDATA[\n");
    ks_text_add_n(p->out, (const char *)ks_page_script, ks_page_script_size);
    ks_text_add(p->out, "//]]></script>\n</body>\n</html>\n");
}

void ks_html(ks_sheets *sheets, ks_facts *const *facts, int n_loads, const char *only, ks_text *out)
{
    const ks_order *order = sheets->plan->order;
    page p = {sheets, out, only, 0};
    const char *title = *or_empty(order->title) ? order->title : ks_tr("Kiln load");
    put_head(&p, title);
    put_body(&p);
    put_header(&p, title, facts, n_loads);
    ks_text_add(out, "<main>\n");
    put_bar(&p);
    for (int i = 0; i < n_loads; i++)
        put_load(&p, facts[i]);
    if (!only)
        put_told(&p);
    put_waiting(&p, sheets->plan);
    put_charts(&p);
    for (int i = 0; i < sheets->options->n_tables; i++)
        put_table(&p, &sheets->options->tables[i]);
    put_foot(&p);
}
