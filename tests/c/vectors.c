/* Runs the shared vectors through the C library: vectors OUT.jsonl VECTORS.json... */

#include <cjson/cJSON.h>
#include <floodbar.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const cJSON *member(const cJSON *object, const char *name)
{
    return cJSON_GetObjectItemCaseSensitive(object, name);
}

static const char *text(const cJSON *object, const char *name)
{
    const char *found = cJSON_GetStringValue(member(object, name));
    return found ? found : "";
}

/* The value at a JSON pointer (RFC 6901), or NULL. */
static const cJSON *at(const cJSON *value, const char *pointer)
{
    char step[256];
    while (value && *pointer == '/') {
        size_t length = 0;
        for (pointer++; *pointer && *pointer != '/'; pointer++) {
            char letter = *pointer;
            if (letter == '~' && (pointer[1] == '0' || pointer[1] == '1'))
                letter = *++pointer == '1' ? '/' : '~';
            if (length + 1 < sizeof step)
                step[length++] = letter;
        }
        step[length] = '\0';
        if (cJSON_IsArray(value)) {
            char *end;
            long index = strtol(step, &end, 10);
            value = end != step && !*end ? cJSON_GetArrayItem(value, (int)index) : NULL;
        } else {
            value = member(value, step);
        }
    }
    return value;
}

static char *read_file(const char *path)
{
    FILE *file = fopen(path, "rb");
    if (!file)
        return NULL;
    char *content = NULL;
    long length = fseek(file, 0, SEEK_END) == 0 ? ftell(file) : -1;
    if (length >= 0 && fseek(file, 0, SEEK_SET) == 0 && (content = calloc((size_t)length + 1, 1)))
        if (fread(content, 1, (size_t)length, file) != (size_t)length) {
            free(content);
            content = NULL;
        }
    fclose(file);
    return content;
}

/* cJSON prints a number that is within rounding of a shorter one as the shorter one: here every bit has to survive. */
static void keep_numbers(cJSON *value)
{
    if (cJSON_IsNumber(value) && (value->valuestring = cJSON_malloc(32))) {
        snprintf(value->valuestring, 32, "%.17g", value->valuedouble);
        value->type = cJSON_Raw;
    }
    for (cJSON *item = value->child; item; item = item->next)
        keep_numbers(item);
}

/* The request as text, to be freed with cJSON_free: raw where the vector has raw text. */
static char *request_text(const cJSON *vector)
{
    const char *raw = cJSON_GetStringValue(member(vector, "text"));
    cJSON *request = raw ? cJSON_CreateRaw(raw) : cJSON_Duplicate(member(vector, "request"), true);
    if (request)
        keep_numbers(request);
    char *printed = request ? cJSON_PrintUnformatted(request) : NULL;
    cJSON_Delete(request);
    return printed;
}

/* One entry of "want": null for absence, {value, within} for a number, anything else as it stands. */
static bool fits(const cJSON *want, const cJSON *got)
{
    if (cJSON_IsNull(want))
        return !got;
    if (cJSON_IsObject(want)) {
        const cJSON *value = member(want, "value"), *within = member(want, "within");
        return cJSON_IsNumber(value) && cJSON_IsNumber(within) && cJSON_IsNumber(got) &&
               fabs(got->valuedouble - value->valuedouble) <= within->valuedouble;
    }
    return cJSON_Compare(want, got, true);
}

static void complain(const char *name, const char *member_name, const cJSON *got)
{
    char *shown = got ? cJSON_PrintUnformatted(got) : NULL;
    printf("%s: %s is %s\n", name, member_name, shown ? shown : "absent");
    cJSON_free(shown);
}

static bool answer_fits(const char *name, const cJSON *want, const cJSON *answer)
{
    bool good = true;
    const cJSON *entry;
    cJSON_ArrayForEach(entry, want) {
        const cJSON *got = at(answer, entry->string);
        if (!fits(entry, got)) {
            complain(name, entry->string, got);
            good = false;
        }
    }
    return good;
}

static bool holds(const cJSON *list, const cJSON *wanted)
{
    const cJSON *item;
    cJSON_ArrayForEach(item, list)
        if (cJSON_Compare(wanted, item, true))
            return true;
    return false;
}

/* A list must hold every entry that is wanted; everything else must be equal. */
static bool error_fits(const char *name, const cJSON *want, const cJSON *error)
{
    bool good = true;
    const cJSON *entry, *wanted;
    cJSON_ArrayForEach(entry, want) {
        const cJSON *got = member(error, entry->string);
        bool same = cJSON_IsArray(entry) ? cJSON_IsArray(got) : cJSON_Compare(entry, got, true);
        if (cJSON_IsArray(entry))
            cJSON_ArrayForEach(wanted, entry)
                same = same && holds(got, wanted);
        if (!same) {
            complain(name, entry->string, got);
            good = false;
        }
    }
    return good;
}

static bool passes(const cJSON *vector, FILE *out)
{
    const char *name = text(vector, "name");
    char *request = request_text(vector);
    if (!request) {
        printf("%s: neither request nor text\n", name);
        return false;
    }
    char *given;
    floodbar_status status = floodbar_calculate(text(vector, "calculation"), request, &given);
    cJSON_free(request);
    fprintf(out, "%s\n", given);
    cJSON *answer = cJSON_Parse(given);
    floodbar_free(given);

    const cJSON *want = member(vector, "want"), *want_error = member(vector, "error");
    const cJSON *error = member(answer, "error");
    bool good = answer && !want != !want_error;
    if (!good) {
        printf("%s: the answer is not JSON, or the vector has not one of want and error\n", name);
    } else if (want && status == FLOODBAR_SUCCESS) {
        good = answer_fits(name, want, answer);
    } else if (want_error && status != FLOODBAR_SUCCESS) {
        good = error_fits(name, want_error, error) && strcmp(floodbar_status_text(status), text(error, "code")) == 0;
    } else {
        printf("%s: %s: %s\n", name, floodbar_status_text(status), text(error, "message"));
        good = false;
    }
    cJSON_Delete(answer);
    return good;
}

/* Counts the vectors of a file; false where it cannot be read or holds no list. */
static bool judge(const char *path, FILE *out, int *passed, int *failed)
{
    char *content = read_file(path);
    cJSON *vectors = content ? cJSON_Parse(content) : NULL;
    free(content);
    const bool read = cJSON_IsArray(vectors);
    const cJSON *vector;
    cJSON_ArrayForEach(vector, vectors)
        ++*(passes(vector, out) ? passed : failed);
    cJSON_Delete(vectors);
    return read;
}

int main(int count, char **arguments)
{
    if (count < 3) {
        fprintf(stderr, "usage: vectors OUT.jsonl VECTORS.json...\n");
        return 2;
    }
    FILE *out = fopen(arguments[1], "wb");
    if (!out) {
        fprintf(stderr, "cannot write %s\n", arguments[1]);
        return 2;
    }
    int passed = 0, failed = 0;
    for (int file = 2; file < count; file++)
        if (!judge(arguments[file], out, &passed, &failed)) {
            fprintf(stderr, "cannot read %s\n", arguments[file]);
            fclose(out);
            return 2;
        }
    if (fclose(out) != 0)
        failed++;
    printf("%d passed, %d failed\n", passed, failed);
    return failed == 0 && passed > 0 ? 0 : 1;
}
