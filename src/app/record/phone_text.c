#include "app/record/phone_text.h"

#include "base/text.h"
#include "studio/level_name.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

enum { HASH_DIGITS = 8, MARK_MOST = 100000 };

typedef struct {
    const ks_plan *plan;
    const ks_load *load;
    int number; /* of the load, from 1 */
    const char **levels;
    const char *text;
    ks_arena *arena;
    ks_error *err;
    int n, room;
    const char **out;
} phone;

/* Without its spaces and however it is written, as the page has it. */
static bool is_named(const char *level, const char *told, size_t length)
{
    size_t i = 0;
    for (; *level; level++)
        if (*level != ' ' &&
            (i == length || tolower((unsigned char)*level) != tolower((unsigned char)told[i++])))
            return false;
    return i == length;
}

static ks_status not_known(const phone *p, const char *word, size_t length)
{
    return ks_fail(p->err, KS_BAD_USAGE,
                   "--loaded: found \"%.*s\"; load %d has no such piece: a level, a point and a "
                   "number or a run of numbers, like 2left.5-8",
                   (int)length, word, p->number);
}

/* Whether this is the n-th piece, and not counted yet. */
static bool is_nth(const ks_level *level, int item, bool *seen, int *n)
{
    if (item < 0 || item >= level->n_pieces || seen[item])
        return false;
    seen[item] = true;
    return level->pieces[item].role != KS_CONES && --*n == 0;
}

/* The n-th piece of a level, from 1, as sheets and page count them: in the order of loading, then
 * what no step names; NULL = there is none. */
static const ks_placed *piece_of(const phone *p, int at, int n)
{
    const ks_level *level = &p->load->levels[at];
    bool *seen = KS_TAKE(p->arena, level->n_pieces, bool);
    for (int s = 0; s < p->load->n_steps; s++) {
        const ks_step *step = &p->load->steps[s];
        bool piece = step->put == KS_PUT_PIECE || step->put == KS_PUT_CONES;
        if (piece && step->level == at && is_nth(level, step->item, seen, &n))
            return &level->pieces[step->item];
    }
    for (int i = 0; i < level->n_pieces; i++)
        if (is_nth(level, i, seen, &n))
            return &level->pieces[i];
    return NULL;
}

static ks_status add_run(phone *p, int level, long from, long to, const char *word, size_t length)
{
    for (long n = from; n <= to; n++) {
        const ks_placed *piece = piece_of(p, level, (int)n);
        if (!piece)
            return not_known(p, word, length);
        p->out = KS_GROW(p->arena, p->out, p->n, &p->room, const char *);
        p->out[p->n++] = ks_joined(piece->id, " on ", p->levels[level], p->arena);
    }
    return KS_OK;
}

/* "2left.5-8"; of cone packs, "2left.C1", nothing is told to the record. */
static ks_status read_word(phone *p, const char *word, size_t length)
{
    const char *point = word + length, *end = word + length;
    while (point > word && *point != '.')
        point--;
    int level = 0;
    while (level < p->load->n_levels && !is_named(p->levels[level], word, (size_t)(point - word)))
        level++;
    if (point == word || level == p->load->n_levels)
        return not_known(p, word, length);
    if (tolower((unsigned char)point[1]) == 'c')
        return KS_OK;
    char *after;
    long from = strtol(point + 1, &after, 10), to = from;
    if (after > point + 1 && *after == '-')
        to = strtol(after + 1, &after, 10);
    if (after != end || from < 1 || to < from || to > MARK_MOST)
        return not_known(p, word, length);
    return add_run(p, level, from, to, word, length);
}

static ks_status read_exceptions(phone *p, const char *at, const char *end)
{
    ks_status status = KS_OK;
    while (!status && at < end) {
        size_t length = strcspn(at, " ;");
        length = length > (size_t)(end - at) ? (size_t)(end - at) : length;
        if (length > 0)
            status = read_word(p, at, length);
        at += length + (length == 0);
    }
    return status;
}

/* The words of "1: all; 2: not ..." for one load, NULL where it is not named. */
static const char *part_of(const phone *p, const char *text)
{
    for (const char *at = text; *at;) {
        char *after;
        at += strspn(at, " ;");
        long number = strtol(at, &after, 10);
        after += strspn(after, " ");
        if (number == p->number && *after == ':')
            return after + 1 + strspn(after + 1, " ");
        at += strcspn(at, ";");
    }
    return NULL;
}

static bool begins(const char *text, const char *word)
{
    size_t length = strlen(word);
    return strncmp(text, word, length) == 0 && (text[length] == '\0' || strchr(" ;", text[length]));
}

static ks_status read_text(phone *p)
{
    const char *hash = ks_plan_hash(p->plan, p->arena);
    if (strncmp(p->text, hash, HASH_DIGITS) != 0)
        return ks_fail(p->err, KS_BAD_USAGE,
                       "--loaded: found \"%.12s\"; it takes the text that the page of this plan "
                       "tells, which begins with %.8s",
                       p->text, hash);
    const char *part = part_of(p, p->text + HASH_DIGITS);
    if (part && begins(part, "all"))
        return KS_OK;
    if (!part || !begins(part, "not"))
        return ks_fail(p->err, KS_BAD_USAGE,
                       "--loaded: found nothing of load %d in \"%s\"; it takes \"%d: all\" or "
                       "\"%d: not ...\"",
                       p->number, p->text, p->number, p->number);
    return read_exceptions(p, part + strlen("not"), part + strcspn(part, ";"));
}

ks_status ks_phone_text_read(const ks_plan *plan, int load, const char *text, ks_arena *arena,
                             int *n, const char *const **not_in, ks_error *err)
{
    const ks_load *of = &plan->loads[load];
    phone p = {.plan = plan,
               .load = of,
               .number = load + 1,
               .levels = ks_level_names(of, arena),
               .text = text + strspn(text, " \t\r\n"),
               .arena = arena,
               .err = err};
    for (int i = 0; i < *n; i++) {
        p.out = KS_GROW(arena, p.out, p.n, &p.room, const char *);
        p.out[p.n++] = (*not_in)[i];
    }
    ks_status status = read_text(&p);
    *n = p.n;
    *not_in = p.out;
    return status;
}
