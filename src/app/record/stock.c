#include "app/record/stock.h"

#include "app/machine/now.h"
#include "app/machine/where.h"
#include "app/record/log_run.h"
#include "base/days/civil.h"
#include "base/days/date.h"
#include "base/file.h"
#include "base/text.h"
#include "base/words.h"

#include <string.h>

static const char *const part_names[KS_PARTS] = {"elements", "thermocouple", "wash"};

static const char *stock_since(const ks_kiln *kiln, ks_arena *arena)
{
    return kiln->stock_day == KS_NO_DAY ? "" : ks_date_print(kiln->stock_day, arena);
}

static int copies_of(int n, const ks_book_upkeep *all, const char *item, const char *done)
{
    int copies = 0;
    for (int i = 0; i < n; i++)
        if (strcmp(all[i].item, item) == 0 && strcmp(all[i].done, done) == 0)
            copies += all[i].copies;
    return copies;
}

static void add_line(ks_kiln_stock *out, const char *item, int listed, int n,
                     const ks_book_upkeep *all)
{
    ks_stock_line line = {item, listed, copies_of(n, all, item, "broken"),
                          copies_of(n, all, item, "bought"), 0};
    int left = listed - line.broken + line.bought;
    line.left = left > 0 ? left : 0;
    out->lines[out->n++] = line;
}

static void count_parts(int n, const ks_book_upkeep *all, int n_firings,
                        const ks_book_firing *firings, ks_kiln_stock *out)
{
    for (int p = 0; p < KS_PARTS; p++) {
        out->parts[p] = (ks_part_age){part_names[p], "", 0};
        for (int i = 0; i < n; i++) /* by day, so that the last counts */
            if (strcmp(all[i].item, part_names[p]) == 0 && strcmp(all[i].done, "renewed") == 0)
                out->parts[p].since = all[i].day;
        for (int i = 0; i < n_firings; i++)
            out->parts[p].firings += strcmp(firings[i].started, out->parts[p].since) >= 0;
    }
}

ks_status ks_kiln_stock_of(ks_book *book, const ks_kiln *kiln, ks_arena *arena, ks_kiln_stock *out,
                           ks_error *err)
{
    int n_all, n, n_firings;
    ks_book_upkeep *all, *since;
    ks_book_firing *firings;
    *out = (ks_kiln_stock){.kiln = kiln, .since = stock_since(kiln, arena)};
    ks_book_asked asked = {.kiln = kiln->id};
    ks_status status = ks_book_upkeeps(book, &asked, arena, &n_all, &all, err);
    if (!status)
        status = ks_book_firings(book, &asked, arena, &n_firings, &firings, err);
    asked.from = *out->since ? out->since : NULL;
    if (!status)
        status = ks_book_upkeeps(book, &asked, arena, &n, &since, err);
    if (status)
        return status;
    out->lines = KS_TAKE(arena, kiln->n_shelves + kiln->n_posts, ks_stock_line);
    for (int i = 0; i < kiln->n_shelves; i++)
        add_line(out, kiln->shelves[i].id, kiln->shelves[i].count, n, since);
    for (int i = 0; i < kiln->n_posts; i++)
        add_line(out, kiln->posts[i].id, kiln->posts[i].count, n, since);
    count_parts(n_all, all, n_firings, firings, out);
    return KS_OK;
}

/* A file, or the id of one that came with the program. */
static ks_status read_kiln(const char *name, ks_arena *arena, ks_kiln *out, ks_error *err)
{
    const char *own = ks_joined(name, ".json", "", arena);
    if (ks_path_ends(name, ".json"))
        return ks_kiln_read(name, arena, out, err);
    if (!ks_path_is_free(own))
        return ks_kiln_read(own, arena, out, err);
    return ks_kiln_read(ks_path_join(ks_where_kilns(arena), own, arena), arena, out, err);
}

ks_status ks_stock_look(const char *book_path, const char *kiln, ks_arena *arena,
                        ks_kiln_stock *out, ks_error *err)
{
    ks_book *book = NULL;
    ks_kiln *read = KS_TAKE(arena, 1, ks_kiln);
    ks_status status = read_kiln(kiln, arena, read, err);
    if (!status)
        status = ks_book_open(ks_book_path(book_path), KS_BOOK_LOOK, &book, err);
    if (!status)
        status = ks_kiln_stock_of(book, read, arena, out, err);
    ks_book_close(book);
    return status;
}

static int left_of(const ks_kiln_stock *stock, const char *item, int listed)
{
    for (int i = 0; i < stock->n; i++)
        if (strcmp(stock->lines[i].item, item) == 0)
            return stock->lines[i].left;
    return listed;
}

/* "half: 7 of 8, post-203: 5 of 6"; "" where nothing has changed. */
static const char *changes_of(const ks_kiln_stock *stock, ks_arena *arena)
{
    ks_text text = {.arena = arena};
    for (int i = 0; i < stock->n; i++) {
        const ks_stock_line *line = &stock->lines[i];
        if (line->left == line->listed)
            continue;
        ks_text_add(&text, text.length > 0 ? ", " : "");
        ks_text_print(&text, "%s: %d, not %d", line->item, line->left, line->listed);
    }
    return ks_text_end(&text);
}

static void count_out(ks_kiln *kiln, const ks_kiln_stock *stock)
{
    for (int i = 0; i < kiln->n_shelves; i++)
        kiln->shelves[i].count = left_of(stock, kiln->shelves[i].id, kiln->shelves[i].count);
    for (int i = 0; i < kiln->n_posts; i++)
        kiln->posts[i].count = left_of(stock, kiln->posts[i].id, kiln->posts[i].count);
}

ks_status ks_stock_count_out(const char *book_path, ks_order *order, ks_arena *arena, int *n_words,
                             const char ***words, ks_error *err)
{
    ks_book *book = NULL;
    *n_words = 0;
    *words = KS_TAKE(arena, order->n_kilns, const char *);
    ks_status status = ks_book_open(book_path, KS_BOOK_LOOK, &book, err);
    for (int k = 0; k < order->n_kilns && !status; k++) {
        ks_kiln_stock stock;
        status = ks_kiln_stock_of(book, &order->kilns[k], arena, &stock, err);
        const char *changes = status ? "" : changes_of(&stock, arena);
        if (!*changes)
            continue;
        count_out(&order->kilns[k], &stock);
        (*words)[(*n_words)++] =
            ks_arena_print(arena, "%s has other furniture by the record than its file tells: %s",
                           order->kilns[k].id, changes);
    }
    ks_book_close(book);
    return status;
}

static bool is_part(const char *item)
{
    for (int p = 0; p < KS_PARTS; p++)
        if (strcmp(item, part_names[p]) == 0)
            return true;
    return false;
}

/* "whole|half|post-203|elements|..." of what may be told. */
static const char *items_of(const ks_kiln *kiln, ks_arena *arena)
{
    ks_text items = {.arena = arena};
    ks_text_add(&items, "elements|thermocouple|wash");
    for (int i = 0; i < kiln->n_shelves; i++)
        ks_text_add(&items, ks_joined("|", kiln->shelves[i].id, "", arena));
    for (int i = 0; i < kiln->n_posts; i++)
        ks_text_add(&items, ks_joined("|", kiln->posts[i].id, "", arena));
    return ks_text_end(&items);
}

static ks_status check_upkeep(const ks_kiln *kiln, const ks_book_upkeep *upkeep, ks_arena *arena,
                              ks_error *err)
{
    const char *items = items_of(kiln, arena);
    int day;
    if (!ks_word_among(upkeep->item, items))
        return ks_fail(err, KS_BAD_USAGE, "log upkeep: found \"%s\"; %s has %s", upkeep->item,
                       kiln->id, ks_words_print(items, arena));
    if (!ks_word_among(upkeep->done, is_part(upkeep->item) ? "renewed" : "broken|bought"))
        return ks_fail(err, KS_BAD_USAGE,
                       "log upkeep: found \"%s\"; a shelf or post is broken or bought; elements, "
                       "thermocouple and wash are renewed",
                       upkeep->done);
    if (ks_date_parse(upkeep->day, &day))
        return ks_fail(err, KS_BAD_USAGE, "--day: found \"%s\"; it takes a day like 2026-11-28",
                       upkeep->day);
    return KS_OK;
}

ks_status ks_upkeep_write(const char *book_path, const char *kiln, ks_book_upkeep *upkeep,
                          ks_arena *arena, ks_error *err)
{
    ks_book *book = NULL;
    ks_kiln read;
    const char *now = ks_log_now(arena);
    upkeep->mark.written = now;
    upkeep->day = upkeep->day ? upkeep->day : ks_arena_text_n(arena, now, 10);
    upkeep->note = upkeep->note ? upkeep->note : "";
    upkeep->struck = "";
    ks_status status = read_kiln(kiln, arena, &read, err);
    if (!status)
        status = check_upkeep(&read, upkeep, arena, err);
    upkeep->kiln = status ? "" : read.id;
    upkeep->copies = is_part(upkeep->item) ? 0 : upkeep->copies;
    if (!status)
        status = ks_book_open(ks_book_path(book_path), KS_BOOK_MAKE, &book, err);
    if (!status)
        status = ks_book_write_upkeep(book, upkeep, err);
    ks_book_close(book);
    return status;
}
