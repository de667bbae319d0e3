package org.quarterlight.repair.web;

import java.math.BigDecimal;
import java.util.Arrays;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.repair.CountStock;
import org.quarterlight.repair.LotKind;
import org.quarterlight.repair.Materials;
import org.quarterlight.repair.ReceiveStock;
import org.quarterlight.repair.SaveStockPlace;
import org.quarterlight.repair.Stock;
import org.quarterlight.repair.StockLevel;
import org.quarterlight.repair.StockPlaceKind;
import org.quarterlight.repair.TransferStock;
import org.quarterlight.web.Notice;
import org.quarterlight.web.ShownOn;
import org.quarterlight.web.SliceRequest;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** One store or van, mostly on the phone of whoever stands before it. */
@Controller
class StockPlacePages {
    private final Stock stock;
    private final Materials materials;

    StockPlacePages(Stock stock, Materials materials) {
        this.stock = stock;
        this.materials = materials;
    }

    @GetMapping("/stock/places")
    String places(SliceRequest wanted, Model model) {
        model.addAttribute("places", stock.places(wanted));
        model.addAttribute("reorder", stock.reorder(SliceRequest.most()));
        model.addAttribute("placeKinds", StockPlaceKind.values());
        return "repair/stock-places";
    }

    @PostMapping("/stock/places")
    @ShownOn("/stock/places")
    String create(
            @RequestParam(defaultValue = "") String name, @RequestParam StockPlaceKind kind, RedirectAttributes after) {
        if (name.isBlank()) {
            throw new Invalid("name", "Give it a name");
        }
        var place = stock.create(new SaveStockPlace(name, kind));
        after.addFlashAttribute("notice", Notice.done(place.name() + " is there. Count what lies in it."));
        return "redirect:/stock/places/" + place.id();
    }

    @GetMapping("/stock/places/{id}")
    String place(@PathVariable UUID id, SliceRequest wanted, Model model) {
        var place = stock.place(id);
        model.addAttribute("place", place);
        model.addAttribute("balances", stock.balances(id, SliceRequest.most()).items());
        model.addAttribute("movements", stock.movements(id, wanted));
        model.addAttribute("levels", stock.levels(id));
        model.addAttribute("lots", materials.lots(SliceRequest.most()).items());
        model.addAttribute(
                "others",
                stock.places(SliceRequest.most()).items().stream()
                        .filter(other -> !other.id().equals(id))
                        .toList());
        model.addAttribute("kinds", Arrays.asList(LotKind.values()));
        return "repair/stock-place";
    }

    @PostMapping("/stock/places/{id}/receive")
    @ShownOn("/stock/places/{id}")
    String receive(
            @PathVariable UUID id,
            @RequestParam(required = false) @Nullable UUID lot,
            @RequestParam(required = false) @Nullable BigDecimal quantity,
            RedirectAttributes after) {
        stock.receive(id, new ReceiveStock(chosen(lot), given(quantity)));
        return back(id, "It is in.", after);
    }

    @PostMapping("/stock/places/{id}/transfer")
    @ShownOn("/stock/places/{id}")
    String transfer(
            @PathVariable UUID id,
            @RequestParam(required = false) @Nullable UUID lot,
            @RequestParam(required = false) @Nullable UUID to,
            @RequestParam(required = false) @Nullable BigDecimal quantity,
            RedirectAttributes after) {
        if (to == null) {
            throw new Invalid("to", "Say where it goes");
        }
        stock.transfer(id, new TransferStock(chosen(lot), to, given(quantity)));
        return back(id, "It is in the other place.", after);
    }

    @PostMapping("/stock/places/{id}/count")
    @ShownOn("/stock/places/{id}")
    String count(
            @PathVariable UUID id,
            @RequestParam(required = false) @Nullable UUID lot,
            @RequestParam(required = false) @Nullable BigDecimal quantity,
            @RequestParam(required = false) @Nullable BigDecimal seen,
            @RequestParam(required = false) @Nullable String reason,
            RedirectAttributes after) {
        stock.count(id, new CountStock(chosen(lot), given(quantity), seen, reason));
        return back(id, "Counted.", after);
    }

    @PostMapping("/stock/places/{id}/levels")
    @ShownOn("/stock/places/{id}")
    String keepAtLeast(
            @PathVariable UUID id,
            @RequestParam LotKind kind,
            @RequestParam(required = false) @Nullable BigDecimal atLeast,
            RedirectAttributes after) {
        if (atLeast == null) {
            throw new Invalid("atLeast", "Say how much, 0 for none");
        }
        stock.keepAtLeast(id, new StockLevel(kind, atLeast));
        return back(id, "Kept.", after);
    }

    @PostMapping("/stock/places/{id}/retire")
    @ShownOn("/stock/places/{id}")
    String retire(@PathVariable UUID id, @RequestParam int version, RedirectAttributes after) {
        stock.retire(id, version);
        after.addFlashAttribute("notice", Notice.done("The place is out of use."));
        return "redirect:/stock/places";
    }

    /** A refused form of this page is shown at its own address; loaded again, it leads back. */
    @GetMapping({
        "/stock/places/{id}/receive",
        "/stock/places/{id}/transfer",
        "/stock/places/{id}/count",
        "/stock/places/{id}/levels",
        "/stock/places/{id}/retire"
    })
    String again(@PathVariable UUID id) {
        return "redirect:/stock/places/" + id;
    }

    private static UUID chosen(@Nullable UUID lot) {
        if (lot == null) {
            throw new Invalid("lot", "Choose the lot first");
        }
        return lot;
    }

    private static BigDecimal given(@Nullable BigDecimal quantity) {
        if (quantity == null) {
            throw new Invalid("quantity", "Say how much");
        }
        return quantity;
    }

    private static String back(UUID id, String sentence, RedirectAttributes after) {
        after.addFlashAttribute("notice", Notice.done(sentence));
        return "redirect:/stock/places/" + id;
    }
}
