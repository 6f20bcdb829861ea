#include "place/draft/offer.h"

#include "place/draft/level_wish.h"

#include <math.h>
#include <string.h>

uint32_t ks_load_shuns(const ks_job *job, int item)
{
    uint32_t tags = job->items[item].tags, conflicts = 0;
    const ks_rules *rules = &job->order->rules;
    for (int i = 0; i < rules->n_apart; i++) {
        if (!rules->apart[i].whole_load)
            continue;
        conflicts |= tags & rules->apart[i].a ? rules->apart[i].b : 0;
        conflicts |= tags & rules->apart[i].b ? rules->apart[i].a : 0;
    }
    return conflicts;
}

typedef void visit(void *context, int item);

static void each_member(const ks_job *job, int item, visit *seen, void *context)
{
    for (int m = 0; m < ks_job_members(job, item); m++)
        seen(context, ks_job_member(job, item, m));
}

static void each_piece(const ks_job *job, const ks_draft_load *load, visit *seen, void *context)
{
    for (int l = 0; l < load->n_levels; l++) {
        for (int i = 0; i < load->levels[l].layout.n_spots; i++)
            each_member(job, load->levels[l].layout.spots[i].item, seen, context);
        for (int i = 0; i < load->levels[l].n_pins; i++)
            each_member(job, load->levels[l].pins[i].item, seen, context);
    }
}

static void mark_in(void *context, int item)
{
    ((int *)context)[item]++;
}

/* Items whose tags meet in one load: those in it decide; among those only on offer, the side that
 * is worth more stays. */
static void keep_apart(const ks_job *job, const int *in, int *copies)
{
    const ks_rules *rules = &job->order->rules;
    for (int r = 0; r < rules->n_apart; r++) {
        uint32_t a = rules->apart[r].a, b = rules->apart[r].b;
        double worth_a = 0, worth_b = 0;
        bool has_a = false, has_b = false;
        if (!rules->apart[r].whole_load)
            continue;
        int best = -1;
        for (int i = 0; i < job->n_items; i++) {
            double worth = job->items[i].worth * copies[i];
            worth_a += job->items[i].tags & a ? worth : 0;
            worth_b += job->items[i].tags & b ? worth : 0;
            has_a = has_a || (in[i] > 0 && job->items[i].tags & a);
            has_b = has_b || (in[i] > 0 && job->items[i].tags & b);
            if (copies[i] > 0 && job->items[i].tags & a &&
                (best < 0 || job->items[i].worth > job->items[best].worth))
                best = i;
        }
        bool drop_b = has_a || (!has_b && worth_a >= worth_b);
        for (int i = 0; i < job->n_items; i++) {
            uint32_t tags = job->items[i].tags;
            if (a == b && tags & a)
                copies[i] = !has_a && i == best ? 1 : 0;
            else if (a != b && tags & (drop_b ? b : a))
                copies[i] = 0;
        }
        for (int i = 0; i < job->n_items && has_a && has_b; i++)
            if (job->items[i].tags & (a | b))
                copies[i] = 0;
    }
}

static bool is_owned_by(const ks_job *job, int item, const char *member)
{
    return item < job->order->n_pieces && job->order->pieces[item].owner &&
           strcmp(job->order->pieces[item].owner, member) == 0;
}

/* Within a member's quota, urgent pieces are offered first, then in the order's own order. */
static void keep_quota(const ks_job *job, const ks_member *member, const int *in, int *copies)
{
    double litres = member->quota_litres > 0 ? member->quota_litres : INFINITY;
    double pieces = member->quota_pieces > 0 ? member->quota_pieces : (double)INFINITY;
    for (int i = 0; i < job->n_items; i++)
        if (is_owned_by(job, i, member->id)) {
            litres -= in[i] * job->order->pieces[i].volume_mm3 / 1e6;
            pieces -= in[i];
        }
    for (int urgent = 1; urgent >= 0; urgent--)
        for (int i = 0; i < job->n_items; i++) {
            if (!is_owned_by(job, i, member->id) || (job->urgency[i] > 1) != urgent)
                continue;
            double each = job->order->pieces[i].volume_mm3 / 1e6;
            int most = 0;
            while (most < copies[i] && pieces >= 1 && litres >= each) {
                most++;
                pieces -= 1;
                litres -= each;
            }
            copies[i] = most;
        }
}

/* What is left of a set goes only where the rest of it is. */
static void keep_sets_together(const ks_job *job, const ks_draft *draft, int slot, int *copies)
{
    ks_arena scratch = {0};
    int *in = KS_TAKE(&scratch, job->n_items, int);
    for (int s = 0; s < draft->n_loads; s++)
        if (s != slot)
            each_piece(job, &draft->loads[s], mark_in, in);
    for (int i = 0; i < job->order->n_pieces; i++)
        for (int k = 0; k < job->order->n_pieces && in[i] > 0 && job->set[i] >= 0; k++)
            if (job->set[k] == job->set[i])
                copies[k] = 0;
    ks_arena_finish(&scratch);
}

void ks_offer_copies(const ks_job *job, const ks_draft *draft, int slot, int level, int *copies)
{
    const ks_draft_load *load = &draft->loads[slot];
    ks_arena scratch = {0};
    int *in = KS_TAKE(&scratch, job->n_items, int);
    memcpy(copies, draft->left, sizeof(int) * (size_t)job->n_items);
    each_piece(job, load, mark_in, in);
    for (int i = 0; i < job->order->n_pieces; i++) {
        const ks_keep *keep = &job->order->pieces[i].keep;
        bool waits = keep->kept &&
                     (keep->load >= draft->n_loads || !ks_draft_is_pinned(draft, keep->load, i));
        copies[i] -= waits && copies[i] > 0;
    }
    ks_wishes_offered(job, load, level, copies);
    if (job->n_sets > 0)
        keep_sets_together(job, draft, slot, copies);
    if (job->load_apart)
        keep_apart(job, in, copies);
    for (int m = 0; m < job->order->n_members; m++)
        if (job->order->members[m].quota_litres > 0 || job->order->members[m].quota_pieces > 0)
            keep_quota(job, &job->order->members[m], in, copies);
    if (job->cone >= 0)
        copies[job->cone] = load->levels[level].cones;
    ks_arena_finish(&scratch);
}

typedef struct {
    const ks_job *job;
    double mass_kg;
} weighing;

static void weigh(void *context, int item)
{
    weighing *w = context;
    w->mass_kg += w->job->items[item].mass_kg;
}

static double posts_mass_kg(const ks_job *job, const ks_draft_load *load, int level)
{
    const ks_furniture *f = job->kinds[load->kind].furniture;
    const ks_stack_level *at = &load->levels[level].at;
    if (at->under < 0)
        return 0;
    for (int l = 0; l < level; l++)
        if (load->levels[l].at.standing == at->standing && load->levels[l].at.z == at->z &&
            load->levels[l].at.column == at->column)
            return 0;
    double sum = 0;
    const ks_gap *gap = &f->gaps[at->under];
    for (int i = 0; i < gap->n; i++)
        sum += f->kiln->posts[gap->kind[i]].mass_kg *
               f->post_layouts[at->standing].columns[at->column].n_posts;
    return sum;
}

double ks_furniture_mass_kg(const ks_job *job, const ks_draft_load *load)
{
    const ks_kiln *kiln = job->kinds[load->kind].furniture->kiln;
    double sum = 0;
    for (int l = 0; l < load->n_levels; l++) {
        const ks_support *s =
            &kiln->bays[load->levels[l].at.bay].supports[load->levels[l].at.support];
        for (int i = 0; i < s->n_shelves; i++)
            sum += kiln->shelves[s->shelves[i].kind].mass_kg;
        sum += posts_mass_kg(job, load, l);
    }
    return sum;
}

double ks_offer_mass_kg(const ks_job *job, const ks_draft *draft, int slot)
{
    const ks_draft_load *load = &draft->loads[slot];
    double limit = job->kinds[load->kind].furniture->kiln->mass_limit_kg;
    if (!(limit > 0))
        return INFINITY;
    weighing w = {job, 0};
    each_piece(job, load, weigh, &w);
    return limit - ks_furniture_mass_kg(job, load) - w.mass_kg;
}

static bool quotas_kept(const ks_job *job, const int *in)
{
    for (int m = 0; m < job->order->n_members; m++) {
        const ks_member *member = &job->order->members[m];
        double litres = 0, pieces = 0;
        for (int i = 0; i < job->order->n_pieces; i++)
            if (in[i] > 0 && is_owned_by(job, i, member->id)) {
                litres += in[i] * job->order->pieces[i].volume_mm3 / 1e6;
                pieces += in[i];
            }
        if ((member->quota_litres > 0 && litres > member->quota_litres * (1 + 1e-12)) ||
            (member->quota_pieces > 0 && pieces > member->quota_pieces))
            return false;
    }
    return true;
}

static bool apart_kept(const ks_job *job, const int *in)
{
    const ks_rules *rules = &job->order->rules;
    for (int r = 0; r < rules->n_apart; r++) {
        int n_a = 0, n_b = 0;
        for (int i = 0; i < job->n_items; i++) {
            n_a += job->items[i].tags & rules->apart[r].a ? in[i] : 0;
            n_b += job->items[i].tags & rules->apart[r].b ? in[i] : 0;
        }
        bool alike = rules->apart[r].a == rules->apart[r].b;
        if (rules->apart[r].whole_load && (alike ? n_a > 1 : n_a > 0 && n_b > 0))
            return false;
    }
    return true;
}

bool ks_offer_kept(const ks_job *job, const ks_draft *draft, int slot)
{
    ks_arena scratch = {0};
    int *in = KS_TAKE(&scratch, job->n_items, int);
    each_piece(job, &draft->loads[slot], mark_in, in);
    bool kept =
        quotas_kept(job, in) && apart_kept(job, in) && ks_offer_mass_kg(job, draft, slot) >= -1e-9;
    ks_arena_finish(&scratch);
    return kept;
}
