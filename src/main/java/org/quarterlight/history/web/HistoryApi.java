package org.quarterlight.history.web;

import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.history.History;
import org.quarterlight.history.HistoryLine;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

@RestController
class HistoryApi {
    private final History history;

    HistoryApi(History history) {
        this.history = history;
    }

    @GetMapping("/api/v1/history")
    Slice<HistoryLine> list(@RequestParam(required = false) @Nullable UUID subject, SliceRequest wanted) {
        return history.lines(subject, wanted);
    }
}
