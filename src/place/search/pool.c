#include "place/search/pool.h"

#include "place/bound/room.h"

#include <string.h>

#define LOAD_COST 1e-4

void ks_pool_init(ks_pool *pool, const ks_job *job, ks_arena *arena)
{
    *pool = (ks_pool){.job = job, .arena = arena};
    pool->loads = KS_TAKE(arena, job->n_kinds, int);
    pool->load_price = KS_TAKE(arena, job->n_kinds, double);
    pool->price = KS_TAKE(arena, job->n_items, double);
    pool->worth = KS_TAKE(arena, job->n_items, double);
    double all = 0;
    for (int s = 0; s < job->n_slots; s++)
        pool->loads[job->slot_kind[s]]++;
    for (int i = 0; i < job->n_items; i++) {
        pool->worth[i] = job->worth[i] * job->urgency[i];
        all += pool->worth[i] * job->items[i].copies;
    }
    pool->load_cost = LOAD_COST * all;
}

static double room_of(const ks_pool *pool, int kind, ks_stack_level level, bool top)
{
    const ks_load_kind *k = &pool->job->kinds[kind];
    ks_arena scratch = {0};
    level.posts = top ? -1 : 0;
    ks_shelf_space space = ks_level_space(pool->job, k, &level, &scratch);
    double area = ks_level_room_mm2(&space, 0, k->clear.ware / 2 - KS_EDGE_LOSS_MM, &scratch);
    ks_arena_finish(&scratch);
    return area;
}

int ks_pool_group(ks_pool *pool, int kind, const ks_stack_level *level)
{
    const ks_post_layout *st = &pool->job->kinds[kind].furniture->post_layouts[level->standing];
    for (int g = 0; g < pool->n_groups; g++) {
        const ks_group *group = &pool->groups[g];
        if (group->kind == kind && group->bay == level->bay && group->support == level->support &&
            group->places == st->places && group->arrangement == st->arrangement)
            return g;
    }
    pool->groups = KS_GROW(pool->arena, pool->groups, pool->n_groups, &pool->room_groups, ks_group);
    pool->groups[pool->n_groups] =
        (ks_group){kind,
                   level->bay,
                   level->support,
                   st->places,
                   st->arrangement,
                   {room_of(pool, kind, *level, false), room_of(pool, kind, *level, true)}};
    return pool->n_groups++;
}

static int class_height(const ks_pool *pool, int kind, const ks_stack_level *level)
{
    return ks_height_index(pool->job, ks_level_clear_mm(&pool->job->kinds[kind], level));
}

int ks_pool_class(ks_pool *pool, int kind, const ks_stack_level *level)
{
    int group = ks_pool_group(pool, kind, level), height = class_height(pool, kind, level);
    bool top = level->posts < 0;
    for (int c = 0; c < pool->n_classes; c++)
        if (pool->classes[c].group == group && pool->classes[c].height == height &&
            pool->classes[c].top == top)
            return c;
    pool->classes =
        KS_GROW(pool->arena, pool->classes, pool->n_classes, &pool->room_classes, ks_class);
    pool->classes[pool->n_classes] = (ks_class){group, height, top, *level, 0, 0, 0};
    return pool->n_classes++;
}

bool ks_pattern_fits(const ks_pattern *pattern, int group, int height, bool top)
{
    return pattern->group == group && pattern->height <= height && (top || !pattern->top);
}

static void count_piece(ks_pattern *p, int piece)
{
    int k = 0;
    while (k < p->n && p->items[k] < piece)
        k++;
    if (k < p->n && p->items[k] == piece) {
        p->counts[k]++;
        return;
    }
    for (int m = p->n; m > k; m--) {
        p->items[m] = p->items[m - 1];
        p->counts[m] = p->counts[m - 1];
    }
    p->items[k] = piece;
    p->counts[k] = 1;
    p->n++;
}

static int pieces_of(const ks_job *job, const ks_shelf_layout *layout)
{
    int n = 0;
    for (int i = 0; i < layout->n_spots; i++)
        n += ks_job_members(job, layout->spots[i].item);
    return n;
}

/* The program's rows count pieces, never towers of them. */
static ks_pattern count(ks_pool *pool, const ks_shelf_layout *layout)
{
    const ks_job *job = pool->job;
    ks_pattern p = {.layout = *layout, .height = -1};
    int most = pieces_of(job, layout);
    p.items = KS_TAKE(pool->arena, most, int);
    p.counts = KS_TAKE(pool->arena, most, int);
    for (int i = 0; i < layout->n_spots; i++) {
        int item = layout->spots[i].item;
        int height = ks_height_index(job, job->height_mm[item]);
        p.height = height > p.height ? height : p.height;
        for (int m = 0; m < ks_job_members(job, item) && item != job->cone; m++)
            count_piece(&p, ks_job_member(job, item, m));
    }
    return p;
}

static bool is_same(const ks_pattern *a, const ks_pattern *b)
{
    return a->group == b->group && a->top == b->top && a->n == b->n &&
           memcmp(a->items, b->items, sizeof(int) * (size_t)a->n) == 0 &&
           memcmp(a->counts, b->counts, sizeof(int) * (size_t)a->n) == 0;
}

bool ks_pool_add_pattern(ks_pool *pool, int kind, const ks_stack_level *level,
                         const ks_shelf_layout *layout)
{
    ks_pattern p = count(pool, layout);
    if (p.n == 0)
        return false;
    p.group = ks_pool_group(pool, kind, level);
    p.top = level->posts < 0;
    for (int i = 0; i < pool->n_patterns; i++)
        if (is_same(&pool->patterns[i], &p))
            return false;
    p.layout.spots = KS_TAKE(pool->arena, layout->n_spots, ks_shelf_spot);
    memcpy(p.layout.spots, layout->spots, sizeof *layout->spots * (size_t)layout->n_spots);
    pool->patterns =
        KS_GROW(pool->arena, pool->patterns, pool->n_patterns, &pool->room_patterns, ks_pattern);
    pool->patterns[pool->n_patterns++] = p;
    return true;
}

bool ks_pool_add_stack(ks_pool *pool, int kind, const ks_stack *stack)
{
    for (int s = 0; s < pool->n_stacks; s++) {
        const ks_stack *known = &pool->stacks[s].stack;
        if (pool->stacks[s].kind == kind && known->n_levels == stack->n_levels &&
            memcmp(known->levels, stack->levels, sizeof *known->levels * (size_t)known->n_levels) ==
                0)
            return false;
    }
    pool->stacks =
        KS_GROW(pool->arena, pool->stacks, pool->n_stacks, &pool->room_stacks, ks_pool_stack);
    ks_pool_stack *s = &pool->stacks[pool->n_stacks++];
    *s = (ks_pool_stack){kind, *stack, KS_TAKE(pool->arena, stack->n_levels, int)};
    s->stack.levels = KS_TAKE(pool->arena, stack->n_levels, ks_stack_level);
    for (int l = 0; l < stack->n_levels; l++) {
        s->stack.levels[l] = stack->levels[l];
        s->group[l] = ks_pool_group(pool, kind, &stack->levels[l]);
        ks_pool_class(pool, kind, &stack->levels[l]);
    }
    return true;
}

void ks_pool_learn(ks_pool *pool, const ks_draft *draft)
{
    for (int s = 0; s < draft->n_loads; s++) {
        const ks_draft_load *load = &draft->loads[s];
        ks_stack stack = {.n_levels = load->n_levels};
        stack.levels = KS_TAKE(pool->arena, load->n_levels, ks_stack_level);
        for (int l = 0; l < load->n_levels; l++) {
            stack.levels[l] = load->levels[l].at;
            ks_pool_add_pattern(pool, load->kind, &load->levels[l].at, &load->levels[l].layout);
        }
        if (load->n_levels > 0)
            ks_pool_add_stack(pool, load->kind, &stack);
    }
}
