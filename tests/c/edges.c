/* What vectors cannot say: pointers, bytes, sizes, threads. */

#include <cjson/cJSON.h>
#include <floodbar.h>
#include <pthread.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int passed, failed;

static void check(bool good, const char *what)
{
    if (good) {
        passed++;
    } else {
        failed++;
        printf("failed: %s\n", what);
    }
}

/* Whether the call gives this status and an error whose code says the same, and whose message names `part`. */
static bool refused(const char *id, const char *request, floodbar_status wanted, const char *part)
{
    char *text;
    floodbar_status status = floodbar_calculate(id, request, &text);
    cJSON *answer = cJSON_Parse(text);
    const cJSON *error = cJSON_GetObjectItemCaseSensitive(answer, "error");
    const char *code = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(error, "code"));
    const char *message = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(error, "message"));
    bool good = status == wanted && code && strcmp(code, floodbar_status_text(status)) == 0 && message &&
                strstr(message, part) && strlen(text) < 1000;
    cJSON_Delete(answer);
    floodbar_free(text);
    return good;
}

static void pointers(void)
{
    const char *id = "mesh.geometry", *request = "{\"mesh\": \"77-55\"}";
    check(refused(NULL, request, FLOODBAR_NULL_POINTER, "`id`"), "a NULL id is named");
    check(refused(id, NULL, FLOODBAR_NULL_POINTER, "`request_json`"), "a NULL request is named");
    check(refused(NULL, NULL, FLOODBAR_NULL_POINTER, "`id`"), "of two NULL pointers the first is named");
    check(floodbar_calculate(id, request, NULL) == FLOODBAR_NULL_POINTER, "a NULL answer is a status");
    check(floodbar_calculate(NULL, NULL, NULL) == FLOODBAR_NULL_POINTER, "all NULL is a status");
    check(floodbar_catalogue(NULL) == FLOODBAR_NULL_POINTER, "a NULL catalogue is a status");
    floodbar_free(NULL);
    check(true, "NULL can be freed");

    char mine[] = "not the library's";
    char *text = mine;
    floodbar_status status = floodbar_calculate(id, request, &text);
    check(status == FLOODBAR_SUCCESS && text && text != mine, "an old pointer is overwritten");
    check(strcmp(mine, "not the library's") == 0, "what it pointed to is left alone");
    floodbar_free(text);
}

/* Whether the call gives this status, and a text that has `part` in it. */
static bool measured(const uint8_t *pixels, size_t length, const char *spec, floodbar_status wanted, const char *part)
{
    char *text;
    floodbar_status status = floodbar_artwork_measure(pixels, length, spec, &text);
    bool good = status == wanted && strstr(text, part);
    floodbar_free(text);
    return good;
}

static void pictures(void)
{
    /* Three rows of three, five bytes apart; the last row ends with its last pixel. One pixel is ink, 0.1 mm wide. */
    const uint8_t pixels[13] = {255, 255, 255, 0, 0, 255, 0, 255, 0, 0, 255, 255, 255};
    const char *spec = "{\"pixels_wide\": 3, \"pixels_high\": 3, \"stride\": 5, \"resolution\": \"100 /cm\", \"ink\": \"dark\"}";
    check(measured(pixels, 13, spec, FLOODBAR_SUCCESS, "\"width\":{\"value\":0.1,\"unit\":\"mm\"}"), "a pixel is measured");
    check(measured(pixels, 12, spec, FLOODBAR_IMPOSSIBLE, "/pixels_high"), "a buffer too short by one byte is refused");
    check(measured(pixels, 0, spec, FLOODBAR_IMPOSSIBLE, "/pixels_high"), "no bytes are too few");
    check(measured(NULL, 13, spec, FLOODBAR_NULL_POINTER, "`pixels`"), "NULL pixels are named");
    check(measured(pixels, 13, NULL, FLOODBAR_NULL_POINTER, "`spec_json`"), "a NULL specification is named");
    check(measured(pixels, 13, "{", FLOODBAR_BAD_JSON, "bad_json"), "a specification that is not JSON is refused");
    check(measured(pixels, SIZE_MAX, spec, FLOODBAR_TOO_LONG, "too_long"), "more bytes than memory holds are refused");
    check(floodbar_artwork_measure(pixels, 13, spec, NULL) == FLOODBAR_NULL_POINTER, "a NULL answer is a status");
}

static char *repeated(char letter, size_t times)
{
    char *text = malloc(times + 1);
    if (!text)
        abort();
    memset(text, letter, times);
    text[times] = '\0';
    return text;
}

static void texts(void)
{
    check(refused("mesh.geometry", "{\"mesh\": \"\xff\"}", FLOODBAR_BAD_JSON, "UTF-8"), "a request is UTF-8");
    check(refused("mesh.geometr\xff", "{}", FLOODBAR_UNKNOWN_CALCULATION, "mesh.geometry"), "an id is UTF-8");
    check(refused("mesh.geometri", "{}", FLOODBAR_UNKNOWN_CALCULATION, "mesh.geometry"), "a slip is named");
    check(refused("", "{}", FLOODBAR_UNKNOWN_CALCULATION, "calculation"), "an empty id");
    check(refused("mesh.geometry", "", FLOODBAR_BAD_JSON, "JSON"), "an empty request");

    char *long_text = repeated(' ', 5000000);
    check(refused("mesh.geometry", long_text, FLOODBAR_TOO_LONG, "bytes"), "5 MB of request");
    check(refused(long_text, "{}", FLOODBAR_UNKNOWN_CALCULATION, "calculation"), "5 MB of id");
    free(long_text);
    char *deep = repeated('[', 20000);
    check(refused("mesh.geometry", deep, FLOODBAR_TOO_LONG, "deep"), "20,000 levels");
    free(deep);
}

static void names(void)
{
    check(strcmp(floodbar_status_text(FLOODBAR_SUCCESS), "success") == 0, "success has a name");
    check(strcmp(floodbar_status_text(FLOODBAR_WRONG_TYPE), "wrong_type") == 0, "the last code has a name");
    const floodbar_status unknown[] = {-1, FLOODBAR_WRONG_TYPE + 1, INT32_MAX, INT32_MIN};
    for (size_t i = 0; i < sizeof unknown / sizeof *unknown; i++)
        check(strcmp(floodbar_status_text(unknown[i]), "unknown_status") == 0, "an unknown status says so");
    check(floodbar_abi() == FLOODBAR_ABI, "header and library have the same interface");
}

static void catalogue(void)
{
    char *text;
    check(floodbar_catalogue(&text) == FLOODBAR_SUCCESS, "there is a catalogue");
    cJSON *document = cJSON_Parse(text);
    floodbar_free(text);
    const char *version = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(document, "version"));
    check(version && strcmp(version, floodbar_version()) == 0, "catalogue and library have the same version");

    /* Every example in it has an answer. */
    const cJSON *calculations = cJSON_GetObjectItemCaseSensitive(document, "calculations"), *calculation;
    check(cJSON_GetArraySize(calculations) > 0, "the catalogue lists calculations");
    cJSON_ArrayForEach(calculation, calculations) {
        const char *id = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(calculation, "id"));
        char *request = cJSON_PrintUnformatted(cJSON_GetObjectItemCaseSensitive(calculation, "example"));
        char *answer;
        check(floodbar_calculate(id, request, &answer) == FLOODBAR_SUCCESS, id);
        floodbar_free(answer);
        cJSON_free(request);
    }
    cJSON_Delete(document);
}

static const char *const run[] = {
    "ink.usage",
    "{\"mesh\": \"55-64\", \"ink\": \"plastisol-white\", \"printed_area\": \"420 cm2\", \"prints\": 96}",
};

/* What a thread compares with, and how often its own answer was another one. */
struct work {
    const char *expected;
    int wrong;
};

static void *calculate_often(void *argument)
{
    struct work *work = argument;
    for (int i = 0; i < 50; i++) {
        char *answer;
        if (floodbar_calculate(run[0], run[1], &answer) != FLOODBAR_SUCCESS || strcmp(answer, work->expected) != 0)
            work->wrong++;
        floodbar_free(answer);
    }
    return NULL;
}

static void threads(void)
{
    char *expected;
    check(floodbar_calculate(run[0], run[1], &expected) == FLOODBAR_SUCCESS, "an answer to compare with");
    pthread_t thread[4];
    struct work work[4];
    for (int i = 0; i < 4; i++) {
        work[i] = (struct work){expected, 0};
        if (pthread_create(&thread[i], NULL, calculate_often, &work[i]) != 0)
            abort();
    }
    for (int i = 0; i < 4; i++) {
        pthread_join(thread[i], NULL);
        check(work[i].wrong == 0, "a thread gets the answer that the others get");
    }
    floodbar_free(expected);
}

int main(void)
{
    pointers();
    pictures();
    texts();
    names();
    catalogue();
    threads();
    printf("%d passed, %d failed\n", passed, failed);
    return failed == 0 && passed > 0 ? 0 : 1;
}
