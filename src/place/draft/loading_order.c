#include "pack/shelf/shelf_order.h"
#include "place/draft/draft_plan.h"

#include <math.h>

/* Shelves of one height, the posts that are to stand on them, then their ware, in a walk from the
 * far side to the near one that leaves out nothing which could not be reached later. */

/* How much farther to go is worth a step nearer to the front: a walk in bands. */
#define FAR_FIRST 0.6

typedef struct {
    const ks_job *job;
    const ks_level *level;
    const ks_shelf_spot *spots; /* of each body of the order: a piece, or a tower of them */
    ks_shelf_order order;
    bool *in;    /* of each body */
    ks_point at; /* where the last one went in */
} loading;

static bool waits(const loading *l, int piece)
{
    for (int k = 0; k < l->order.n; k++)
        if (!l->in[k] && l->order.after[piece * l->order.n + k])
            return true;
    return false;
}

/* Whether all that is still to come could be reached if this one were in. */
static bool leaves_a_way(const loading *l, int piece)
{
    bool so = true;
    l->in[piece] = true;
    for (int k = 0; k < l->order.n && so; k++)
        so = l->in[k] || !l->order.blocked || l->order.blocked[k * l->order.n + piece] == 0 ||
             ks_shelf_reached(&l->order, k, l->in);
    l->in[piece] = false;
    return so;
}

static ks_point middle_of(const loading *l, int piece)
{
    ks_box box = l->order.bodies[piece].box;
    return (ks_point){(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
}

static double way_to(const loading *l, int piece)
{
    ks_point to = middle_of(l, piece);
    double x = to.x - l->at.x, y = to.y - l->at.y;
    return sqrt(x * x + y * y) - FAR_FIRST * to.y;
}

static double top_of(const loading *l, int piece)
{
    return l->job->height_mm[l->spots[piece].item];
}

/* The nearest of the pieces that may go in now. Were there none that leaves a way to all others,
 * the lowest stands in nobody's way; were all to wait for another, the plan has no order and the
 * checker says so. */
static int next_piece(const loading *l)
{
    int best = -1, low = -1, any = -1;
    for (int i = 0; i < l->order.n; i++) {
        if (l->in[i])
            continue;
        any = any < 0 ? i : any;
        if (waits(l, i))
            continue;
        if (low < 0 || top_of(l, i) < top_of(l, low))
            low = i;
        if ((best < 0 || way_to(l, i) < way_to(l, best)) && leaves_a_way(l, i))
            best = i;
    }
    return best >= 0 ? best : low >= 0 ? low : any;
}

static void put(ks_load *load, ks_put what, int level, int item)
{
    load->steps[load->n_steps++] = (ks_step){what, level, item};
}

/* What stands on the level as the packer knows it, in the order of the plan's pieces. */
static const ks_shelf_spot *spots_of(const ks_draft_level *level, ks_arena *arena)
{
    ks_shelf_spot *spots = KS_TAKE(arena, level->n_pins + level->layout.n_spots, ks_shelf_spot);
    int n = 0;
    for (int i = 0; i < level->n_pins; i++)
        spots[n++] = level->pins[i];
    for (int i = 0; i < level->layout.n_spots; i++)
        spots[n++] = level->layout.spots[i];
    return spots;
}

/* The first of each body's pieces in the level's list; a tower's follow from below. */
static int *first_pieces(const loading *l, ks_arena *arena)
{
    int *first = KS_TAKE(arena, l->order.n + 1, int);
    for (int i = 0; i < l->order.n; i++)
        first[i + 1] = first[i] + ks_job_members(l->job, l->spots[i].item);
    return first;
}

/* The walk begins at the far corner on the side of the hand that does not carry. */
static ks_point far_corner(const loading *l)
{
    ks_point corner = {0, -INFINITY};
    for (int i = 0; i < l->order.n; i++) {
        ks_box box = l->order.bodies[i].box;
        corner.y = fmax(corner.y, box.y1);
        corner.x = l->job->order->rules.hand == KS_LEFT_HANDED ? fmax(corner.x, box.x1)
                                                               : fmin(corner.x, box.x0);
    }
    return corner;
}

static void fill_level(const ks_job *job, const ks_draft_load *draft, int level, ks_load *load)
{
    ks_arena scratch = {0};
    const ks_draft_level *from = &draft->levels[level];
    ks_shelf_space space = ks_level_space(job, &job->kinds[draft->kind], &from->at, &scratch);
    loading l = {.job = job, .level = &load->levels[level], .spots = spots_of(from, &scratch)};
    l.order = ks_shelf_order_find(&space, job->items, from->n_pins + from->layout.n_spots, l.spots,
                                  &scratch);
    int *first = first_pieces(&l, &scratch);
    l.in = KS_TAKE(&scratch, l.order.n, bool);
    l.at = far_corner(&l);
    for (int done = 0; done < l.order.n; done++) {
        int i = next_piece(&l);
        l.in[i] = true;
        l.at = middle_of(&l, i);
        for (int p = first[i]; p < first[i + 1]; p++)
            put(load, l.level->pieces[p].role == KS_CONES ? KS_PUT_CONES : KS_PUT_PIECE, level, p);
    }
    ks_arena_finish(&scratch);
}

/* Whether posts stand on a level's shelves, or (-1) on the floor. */
static bool carries_posts(const ks_load *load, int level)
{
    double z = level < 0 ? 0 : load->levels[level].z_mm;
    for (int i = 0; i < load->n_posts; i++) {
        const ks_post *post = &load->posts[i];
        bool begins = post->from_mm > z - KS_GRID && post->from_mm < z + KS_GRID;
        if (begins && (level < 0 || ks_post_meets_level(post, &load->levels[level])))
            return true;
    }
    return false;
}

static int end_of_height(const ks_load *load, int first)
{
    int end = first + 1;
    while (end < load->n_levels && load->levels[end].z_mm < load->levels[first].z_mm + KS_GRID)
        end++;
    return end;
}

void ks_answer_steps(const ks_job *job, const ks_draft_load *draft, ks_load *load, ks_arena *arena)
{
    int most = 1;
    for (int l = 0; l < load->n_levels; l++)
        most += 1 + load->levels[l].n_shelves + load->levels[l].n_pieces;
    load->steps = KS_TAKE(arena, most, ks_step);
    if (carries_posts(load, -1))
        put(load, KS_PUT_POSTS, -1, -1);
    for (int first = 0, end; first < load->n_levels; first = end) {
        end = end_of_height(load, first);
        for (int l = first; l < end; l++)
            for (int s = 0; s < load->levels[l].n_shelves; s++)
                put(load, KS_PUT_SHELF, l, s);
        for (int l = first; l < end; l++)
            if (carries_posts(load, l))
                put(load, KS_PUT_POSTS, l, -1);
        for (int l = first; l < end; l++)
            fill_level(job, draft, l, load);
    }
}
