#include "check/check_judge.h"
#include "studio/display.h"

/* Shelves and posts: within the chamber, out of each other's way, carried, and in stock. */

static const double resting_mm = 5; /* how far a post reaches under a shelf to carry it */

static double bottom_of(const ks_level *level, const ks_shelf *shelf)
{
    return level->z_mm - shelf->thickness_mm;
}

static double within_chamber(const ks_judge *j, const ks_outline *shape, double low, double high)
{
    double slack = fmin(low, j->load->height_mm - high);
    for (int i = 0; i < j->load->n_parts; i++) {
        const ks_chamber_part *room = &j->load->parts[i];
        if (ks_meet(low, high, room->from_mm, room->to_mm))
            slack = fmin(slack, ks_outline_inside(shape, &room->outline));
    }
    return slack;
}

/* Largest difference of any two vertices' distance: 0 for one shape moved and turned. */
static double difference_in_shape(const ks_outline *a, const ks_outline *b)
{
    if (a->n != b->n)
        return INFINITY;
    double most = fabs(a->round - b->round);
    for (int i = 0; i < a->n; i++)
        for (int k = i + 1; k < a->n; k++) {
            double x = a->at[i].x - a->at[k].x, y = a->at[i].y - a->at[k].y;
            double u = b->at[i].x - b->at[k].x, v = b->at[i].y - b->at[k].y;
            most = fmax(most, fabs(sqrt(x * x + y * y) - sqrt(u * u + v * v)));
        }
    return most;
}

/* Both ends of a length may be off by half the grid along a diagonal. */
static bool of_one_shape(const ks_outline *a, const ks_outline *b)
{
    return difference_in_shape(a, b) <= 2.5 * KS_GRID;
}

static const ks_shelf_kind *kind_of(const ks_judge *j, const ks_shelf *shelf)
{
    if (!j->kiln || shelf->kind < 0 || shelf->kind >= j->kiln->n_shelves)
        return NULL;
    const ks_shelf_kind *kind = &j->kiln->shelves[shelf->kind];
    return ks_same_text(kind->id, shelf->id) ? kind : NULL;
}

static void judge_shelf(ks_judge *j, int l, const ks_shelf *shelf)
{
    const ks_level *level = &j->load->levels[l];
    ks_spot where = ks_spot_level(j, l, ks_text(shelf->id));
    ks_note(j, RULE_SHELVES,
            within_chamber(j, &shelf->outline, bottom_of(level, shelf), level->z_mm), where);
    const ks_shelf_kind *kind = kind_of(j, shelf);
    if (!kind) {
        ks_note(j, RULE_SHELVES, -INFINITY, where);
        return;
    }
    if (!ks_near(kind->thickness_mm, shelf->thickness_mm))
        ks_note(j, RULE_SHELVES, -fabs(kind->thickness_mm - shelf->thickness_mm), where);
    if (!of_one_shape(&kind->outline, &shelf->outline))
        ks_note(j, RULE_SHELVES, -difference_in_shape(&kind->outline, &shelf->outline), where);
}

static void judge_two_shelves(ks_judge *j, int l, const ks_shelf *a, int m, const ks_shelf *b)
{
    const ks_level *one = &j->load->levels[l], *other = &j->load->levels[m];
    if (!ks_meet(bottom_of(one, a), one->z_mm, bottom_of(other, b), other->z_mm))
        return;
    ks_spot where = ks_spot_level(j, l, ks_text(a->id));
    where.b = ks_text(b->id);
    ks_note(j, RULE_SHELVES, ks_outline_distance(&a->outline, &b->outline), where);
}

static void beside_others(ks_judge *j, int l, int s)
{
    const ks_shelf *shelf = &j->load->levels[l].shelves[s];
    for (int m = l; m < j->load->n_levels; m++)
        for (int t = m == l ? s + 1 : 0; t < j->load->levels[m].n_shelves; t++)
            judge_two_shelves(j, l, shelf, m, &j->load->levels[m].shelves[t]);
}

static bool lies_over(const ks_level *low, const ks_level *high)
{
    for (int s = 0; s < low->n_shelves; s++)
        for (int t = 0; t < high->n_shelves; t++)
            if (bottom_of(high, &high->shelves[t]) >= low->z_mm - KS_GRID &&
                ks_outline_nearer(&low->shelves[s].outline, &high->shelves[t].outline, -1))
                return true;
    return false;
}

static double clear_over(const ks_judge *j, int l)
{
    const ks_level *level = &j->load->levels[l];
    double lowest = j->load->height_mm;
    for (int m = 0; m < j->load->n_levels; m++) {
        const ks_level *other = &j->load->levels[m];
        if (m == l || !lies_over(level, other))
            continue;
        for (int t = 0; t < other->n_shelves; t++)
            lowest = fmin(lowest, bottom_of(other, &other->shelves[t]));
    }
    return lowest - level->z_mm;
}

/* The gaps that the kiln asks for over the shelves nearest to its floor, and under its lid. */
static void judge_end_gaps(ks_judge *j, int l)
{
    const ks_level *level = &j->load->levels[l];
    double clear = clear_over(j, l);
    bool lowest = true;
    for (int m = 0; m < j->load->n_levels && lowest; m++)
        lowest = m == l || !lies_over(&j->load->levels[m], level);
    if (lowest && j->kiln->first_gap_mm > 0)
        ks_note(j, RULE_FIRST_GAP, clear - j->kiln->first_gap_mm, ks_spot_level(j, l, NULL));
    if (j->kiln->top_gap_mm > 0 && ks_near(level->z_mm + clear, j->load->height_mm))
        ks_note(j, RULE_TOP_GAP, clear - j->kiln->top_gap_mm, ks_spot_level(j, l, NULL));
}

void ks_check_shelves(ks_judge *j)
{
    for (int l = 0; l < j->load->n_levels; l++) {
        const ks_level *level = &j->load->levels[l];
        double off = -fabs(clear_over(j, l) - level->gap_mm);
        ks_note(j, RULE_GAPS, off < -1.5 * KS_GRID ? off : 0, ks_spot_level(j, l, NULL));
        if (j->kiln)
            judge_end_gaps(j, l);
        if (level->n_shelves == 0)
            ks_note(j, RULE_SHELVES, -INFINITY, ks_spot_level(j, l, "no shelf"));
        for (int s = 0; s < level->n_shelves; s++) {
            judge_shelf(j, l, &level->shelves[s]);
            beside_others(j, l, s);
        }
    }
}

static const char *name_of(const ks_judge *j, const ks_post *post)
{
    ks_point at = ks_outline_centroid(&post->outline);
    return ks_arena_print(j->arena, "post at %.0f, %.0f from %.0f", at.x, at.y, post->from_mm);
}

/* On shelves that lie on the floor a post needs none below; over a seam they carry it together. */
static double over_floor_shelves(const ks_judge *j, const ks_post *post)
{
    double best = -INFINITY;
    for (int l = 0; l < j->load->n_levels; l++) {
        const ks_level *level = &j->load->levels[l];
        ks_outline *under = KS_TAKE(j->arena, level->n_shelves, ks_outline);
        int n = 0;
        for (int s = 0; ks_near(level->z_mm, post->from_mm) && s < level->n_shelves; s++)
            if (fabs(bottom_of(level, &level->shelves[s])) <= KS_GRID &&
                ks_outline_nearer(&level->shelves[s].outline, &post->outline, 0))
                under[n++] = level->shelves[s].outline;
        if (n == 0)
            continue;
        ks_outline hull = ks_outline_hull(under, n, j->arena);
        best = fmax(best, -ks_outline_from_point(&hull, ks_outline_centroid(&post->outline)));
    }
    return best;
}

/* Whether a post under the shelf would carry it, or one over it has enough to stand on. */
static bool reaches(const ks_post *post, const ks_shelf *shelf)
{
    return ks_outline_nearer(&post->outline, &shelf->outline, -resting_mm + 1.5 * KS_GRID);
}

/* A post below whose outline holds this one's centre, with no more than the shelf between them. */
static double over_a_post(const ks_judge *j, const ks_post *post)
{
    ks_point centre = ks_outline_centroid(&post->outline);
    double best = -INFINITY;
    for (int l = 0; l < j->load->n_levels; l++) {
        const ks_level *level = &j->load->levels[l];
        for (int s = 0; ks_near(level->z_mm, post->from_mm) && s < level->n_shelves; s++) {
            const ks_shelf *shelf = &level->shelves[s];
            for (int i = 0; i < j->load->n_posts; i++) {
                const ks_post *below = &j->load->posts[i];
                if (ks_near(below->to_mm, bottom_of(level, shelf)) && reaches(post, shelf))
                    best = fmax(best, -ks_outline_from_point(&below->outline, centre));
            }
        }
    }
    return best;
}

static bool carries(const ks_level *level, const ks_shelf *shelf, const ks_post *post)
{
    return ks_near(post->to_mm, bottom_of(level, shelf)) && reaches(post, shelf);
}

static bool carries_any(const ks_judge *j, const ks_post *post)
{
    for (int l = 0; l < j->load->n_levels; l++)
        for (int s = 0; s < j->load->levels[l].n_shelves; s++)
            if (carries(&j->load->levels[l], &j->load->levels[l].shelves[s], post))
                return true;
    return false;
}

static void stacked_right(ks_judge *j, const ks_post *post, ks_spot where)
{
    double sum = 0;
    for (int i = 0; i < post->n_heights && i < 2; i++)
        sum += post->heights_mm[i];
    double tall = post->to_mm - post->from_mm;
    if (!ks_near(sum, tall))
        ks_note(j, RULE_POSTS, -fabs(sum - tall), where);
    if (post->n_heights < 1 || post->n_heights > 2)
        ks_note(j, RULE_POSTS, -INFINITY, where);
}

static void clear_of_others(ks_judge *j, const ks_post *post, int from, ks_spot where)
{
    for (int i = from; i < j->load->n_posts; i++) {
        const ks_post *other = &j->load->posts[i];
        if (ks_meet(post->from_mm, post->to_mm, other->from_mm, other->to_mm))
            ks_note(j, RULE_POSTS, ks_outline_distance(&post->outline, &other->outline), where);
    }
    for (int l = 0; l < j->load->n_levels; l++)
        for (int s = 0; s < j->load->levels[l].n_shelves; s++) {
            const ks_shelf *shelf = &j->load->levels[l].shelves[s];
            if (ks_meet(post->from_mm, post->to_mm, bottom_of(&j->load->levels[l], shelf),
                        j->load->levels[l].z_mm))
                ks_note(j, RULE_POSTS, ks_outline_distance(&post->outline, &shelf->outline), where);
        }
    for (int k = 0; k < j->load->n_keep_outs; k++) {
        const ks_keep_out *out = &j->load->keep_outs[k];
        if (ks_meet(post->from_mm, post->to_mm, out->from_mm, out->to_mm))
            ks_note(j, RULE_KEEP_OUTS, ks_outline_distance(&post->outline, &out->outline), where);
    }
}

static void judge_post(ks_judge *j, int i)
{
    const ks_post *post = &j->load->posts[i];
    ks_spot where = ks_spot_load(j);
    where.a = name_of(j, post);
    bool on_floor = fabs(post->from_mm) <= KS_GRID;
    if (!on_floor)
        ks_note(j, RULE_POSTS, fmax(over_a_post(j, post), over_floor_shelves(j, post)), where);
    else if (j->kiln)
        ks_note(j, RULE_FLOOR_POSTS, post->to_mm - post->from_mm - j->kiln->floor_post_least_mm,
                where);
    if (!carries_any(j, post))
        ks_note(j, RULE_POSTS, -resting_mm, where);
    ks_note(j, RULE_POSTS, within_chamber(j, &post->outline, post->from_mm, post->to_mm), where);
    stacked_right(j, post, where);
    clear_of_others(j, post, i + 1, where);
}

/* Three posts or more, with the middle of the shelf over their hull; or flat on the floor. */
static void judge_carried(ks_judge *j, int l, const ks_shelf *shelf)
{
    const ks_level *level = &j->load->levels[l];
    ks_spot where = ks_spot_level(j, l, ks_text(shelf->id));
    if (fabs(bottom_of(level, shelf)) <= KS_GRID) {
        if (j->kiln)
            ks_note(j, RULE_FLOOR_POSTS, -j->kiln->floor_post_least_mm, where);
        return;
    }
    ks_outline *under = KS_TAKE(j->arena, j->load->n_posts, ks_outline);
    int n = 0;
    for (int i = 0; i < j->load->n_posts; i++)
        if (carries(level, shelf, &j->load->posts[i]))
            under[n++] = j->load->posts[i].outline;
    ks_note(j, RULE_CARRIED, n - 3, where);
    if (n < 3)
        return;
    ks_outline hull = ks_outline_hull(under, n, j->arena);
    double slack = -ks_outline_from_point(&hull, ks_outline_centroid(&shelf->outline));
    ks_note(j, RULE_POSTS, slack, where);
}

void ks_check_posts(ks_judge *j)
{
    for (int i = 0; i < j->load->n_posts; i++)
        judge_post(j, i);
    for (int l = 0; l < j->load->n_levels; l++)
        for (int s = 0; s < j->load->levels[l].n_shelves; s++)
            judge_carried(j, l, &j->load->levels[l].shelves[s]);
}

static void count_shelves(ks_judge *j)
{
    for (int k = 0; k < j->kiln->n_shelves; k++) {
        int used = 0;
        for (int l = 0; l < j->load->n_levels; l++)
            for (int s = 0; s < j->load->levels[l].n_shelves; s++)
                used += j->load->levels[l].shelves[s].kind == k;
        ks_note(j, RULE_SHELF_STOCK, j->kiln->shelves[k].count - used,
                ks_spot_level(j, -1, ks_text(j->kiln->shelves[k].id)));
    }
}

static void take_post(ks_judge *j, const ks_post *post, double height, int *left)
{
    ks_spot where = ks_spot_load(j);
    where.a = ks_arena_print(j->arena, "post of %g %s",
                             ks_show_number(&j->order->display, KS_LENGTH, height),
                             ks_show_unit(&j->order->display, KS_LENGTH));
    int found = -1;
    for (int k = 0; k < j->kiln->n_posts; k++) {
        const ks_post_kind *kind = &j->kiln->posts[k];
        if (!ks_near(kind->height_mm, height) || !of_one_shape(&kind->outline, &post->outline))
            continue;
        found = k;
        if (left[k] > 0)
            break;
    }
    ks_note(j, RULE_POST_STOCK, found < 0 ? -1 : --left[found], where);
}

void ks_check_stock(ks_judge *j)
{
    if (!j->kiln)
        return;
    count_shelves(j);
    int *left = KS_TAKE(j->arena, j->kiln->n_posts, int);
    for (int k = 0; k < j->kiln->n_posts; k++)
        left[k] = j->kiln->posts[k].count;
    for (int i = 0; i < j->load->n_posts; i++)
        for (int h = 0; h < j->load->posts[i].n_heights && h < 2; h++)
            take_post(j, &j->load->posts[i], j->load->posts[i].heights_mm[h], left);
}
