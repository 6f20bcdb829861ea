#include "pack/kit/descent.h"

#include <math.h>
#include <string.h>

/* The last of a descent: all shortfalls as straight functions of the values, the least move that
 * makes good for them, damped (Levenberg 1944; Marquardt 1963), with a dense Cholesky
 * factorisation. Pairs that nearly touch are looked at too, and join in when the move would make
 * them short. Doubles the right digits at each step where a layout without overlap is near. */

enum { MOST_STEPS = 12, ROW = 7 };

/* One shortfall and where it depends on the values. */
typedef struct {
    int n, at[ROW];
    double by[ROW], short_mm;
} row;

static void entry_added(row *to, int at, double by)
{
    to->at[to->n] = at;
    to->by[to->n++] = by;
}

static void body_added(const ks_relax *relax, row *to, int body, ks_pull of)
{
    const ks_kind *kind = &relax->pile->kit->kinds[relax->pile->kind[body]];
    entry_added(to, relax->at[body], of.x);
    entry_added(to, relax->at[body] + 1, of.y);
    if (kind->n_turns == 0)
        entry_added(to, relax->at[body] + 2, of.turn / ks_relax_arm(kind));
}

static row row_of(const ks_relax *relax, const ks_contact *contact)
{
    row out = {.short_mm = contact->short_mm};
    body_added(relax, &out, contact->i, contact->of_i);
    if (contact->j >= 0)
        body_added(relax, &out, contact->j, contact->of_j);
    if (relax->turns_posts && contact->of_posts != 0)
        entry_added(&out, relax->n_values - 1, contact->of_posts / ks_relax_post_arm(relax->pile));
    return out;
}

/* The normal equations of the shortfalls that count: lower half of the matrix, and the right side.
 */
static void equations(ks_relax *relax)
{
    int n = relax->n_values;
    double *matrix = relax->matrix, *right = relax->move;
    memset(matrix, 0, (size_t)(n * n) * sizeof *matrix);
    memset(right, 0, (size_t)n * sizeof *right);
    for (int c = 0; c < relax->strain.n_contacts; c++) {
        if (!relax->counts[c])
            continue;
        row one = row_of(relax, &relax->contacts[c]);
        for (int a = 0; a < one.n; a++) {
            right[one.at[a]] -= one.by[a] * one.short_mm;
            for (int b = 0; b < one.n; b++)
                if (one.at[b] <= one.at[a])
                    matrix[one.at[a] * n + one.at[b]] += one.by[a] * one.by[b];
        }
    }
}

/* Solves (matrix + damping) x = right in place; only the lower half is read and written. */
static void solved(double *matrix, double *x, int n, double damping)
{
    for (int i = 0; i < n; i++) {
        double *of_i = matrix + i * n;
        of_i[i] += damping;
        for (int j = 0; j < i; j++) {
            const double *of_j = matrix + j * n;
            of_i[j] = (of_i[j] - ks_relax_dot(of_i, of_j, j)) / of_j[j];
        }
        of_i[i] -= ks_relax_dot(of_i, of_i, i);
        of_i[i] = sqrt(fmax(of_i[i], 1e-3 * damping));
    }
    for (int i = 0; i < n; i++) {
        for (int k = 0; k < i; k++)
            x[i] -= matrix[i * n + k] * x[k];
        x[i] /= matrix[i * n + i];
    }
    for (int i = n - 1; i >= 0; i--) {
        for (int k = i + 1; k < n; k++)
            x[i] -= matrix[k * n + i] * x[k];
        x[i] /= matrix[i * n + i];
    }
}

/* Lists shortfalls, and as negative ones the pairs that are less than `near_mm` from being short;
 * returns the strain of the real ones. */
static double strain_listed(ks_relax *relax, double near_mm)
{
    ks_strain *strain = &relax->strain;
    strain->contacts = relax->contacts;
    strain->contact_room = relax->contact_room;
    strain->n_contacts = 0;
    strain->aim_mm += near_mm;
    (void)ks_strain_all(strain);
    strain->aim_mm -= near_mm;
    strain->worst_mm = fmax(strain->worst_mm - near_mm, 0);
    strain->contacts = NULL;
    double sum = 0;
    for (int c = 0; c < strain->n_contacts; c++) {
        double short_mm = relax->contacts[c].short_mm -= near_mm;
        sum += short_mm > 0 ? short_mm * short_mm : 0;
    }
    return sum;
}

/* Lets those count that would be short after the move; false when all do already. */
static bool more_count(ks_relax *relax)
{
    bool *counts = relax->counts;
    bool more = false;
    for (int c = 0; c < relax->strain.n_contacts; c++) {
        if (counts[c])
            continue;
        row one = row_of(relax, &relax->contacts[c]);
        double short_mm = one.short_mm;
        for (int a = 0; a < one.n; a++)
            short_mm += one.by[a] * relax->move[one.at[a]];
        counts[c] = short_mm > 0;
        more = more || counts[c];
    }
    return more;
}

/* The damped least move that makes good for all that is short, and for what it would make so. */
static void move_found(ks_relax *relax, double damping)
{
    enum { ROUNDS = 4 };
    int n = relax->n_values;
    for (int c = 0; c < relax->strain.n_contacts; c++)
        relax->counts[c] = relax->contacts[c].short_mm > 0;
    for (int round = 0; round < ROUNDS; round++) {
        equations(relax);
        solved(relax->matrix, relax->move, n, damping);
        *relax->strain.work += n * n * n / 120 + n;
        if (!more_count(relax))
            return;
    }
}

static void values_moved(ks_relax *relax)
{
    const double *move = relax->move;
    memcpy(relax->old_value, relax->value, (size_t)relax->n_values * sizeof *move);
    for (int i = 0; i < relax->n_values; i++)
        relax->value[i] += fmax(fmin(move[i], relax->stride_mm), -relax->stride_mm);
    ks_relax_show(relax);
}

static void values_back(ks_relax *relax)
{
    memcpy(relax->value, relax->old_value, (size_t)relax->n_values * sizeof *relax->value);
    ks_relax_show(relax);
}

bool ks_relax_polish(ks_relax *relax)
{
    if (relax->n_values > KS_POLISH_MOST || relax->n_values == 0)
        return false;
    double damping = 1e-6, near_mm = 4 * relax->strain.worst_mm;
    ks_strain_list(&relax->strain, 2 * near_mm);
    relax->strain_mm2 = strain_listed(relax, near_mm);
    for (int step = 0; step < MOST_STEPS && damping < 1; step++) {
        double before = relax->strain_mm2;
        move_found(relax, damping);
        values_moved(relax);
        relax->strain_mm2 = strain_listed(relax, near_mm);
        if (relax->strain.worst_mm <= relax->strain.aim_mm + KS_RELAX_DONE_MM)
            return true;
        if (relax->strain_mm2 > before) {
            values_back(relax);
            relax->strain_mm2 = strain_listed(relax, near_mm);
            damping *= 100;
        } else if (relax->strain_mm2 > 0.9 * before) {
            return false;
        }
    }
    return false;
}
