//! Where the user is, as the address's hash: back and reload work by themselves.

use crate::device;
use crate::store::SiteId;
use leptos::prelude::*;

/// The four destinations of a site, and what lies behind them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Tab {
    /// The live drawing.
    Plan,
    /// Every entry in order.
    Book,
    /// What is wrong in the yard, and what is buried in it.
    Problems,
    /// Adding a problem.
    AddProblem,
    /// Adding a utility mark.
    AddMark,
    /// All photos.
    Photos,
    /// One photo, large.
    Photo,
    /// The drawn-to-scale sheet and the files.
    Sheet,
    /// Before you leave: what is still missing.
    Leave,
    /// Name, units, position and north.
    Details,
    /// The list of things.
    Things,
    /// The heights, and the level readings they come from.
    Levels,
    /// What the client said.
    Notes,
    /// One question a screen.
    Guide,
    /// What this device remembers of its user, whatever the site.
    Settings,
    /// Everything as one file.
    Package,
    /// What who draws asks back.
    Questions,
    /// What changed since an earlier state of the book.
    Changes,
}

impl Tab {
    const ALL: [(Self, &'static str); 18] = [
        (Self::Plan, "plan"),
        (Self::Book, "book"),
        (Self::Problems, "problems"),
        (Self::AddProblem, "add-problem"),
        (Self::AddMark, "add-mark"),
        (Self::Photos, "photos"),
        (Self::Photo, "photo"),
        (Self::Sheet, "sheet"),
        (Self::Leave, "before-you-leave"),
        (Self::Details, "details"),
        (Self::Things, "things"),
        (Self::Levels, "heights"),
        (Self::Notes, "notes"),
        (Self::Guide, "guide"),
        (Self::Settings, "settings"),
        (Self::Package, "send"),
        (Self::Questions, "questions"),
        (Self::Changes, "changes"),
    ];
}

/// A place in the app.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Route {
    /// The list of sites.
    Sites,
    /// A new site's name and units.
    New,
    /// What this device remembers of its user.
    Settings,
    /// A site.
    Site(SiteId, Tab),
}

impl Route {
    /// Reads an address's hash; anything unknown is the list of sites.
    #[must_use]
    pub fn from_hash(hash: &str) -> Self {
        let mut parts = hash.trim_start_matches('#').split('/').filter(|part| !part.is_empty());
        match (parts.next(), parts.next(), parts.next()) {
            (Some("new"), None, None) => Self::New,
            (Some("settings"), None, None) => Self::Settings,
            (Some("site"), Some(id), tab) => {
                let tab =
                    Tab::ALL.iter().find(|(_, name)| Some(*name) == tab).map_or(Tab::Plan, |(tab, _)| *tab);
                Self::Site(SiteId(id.to_owned()), tab)
            }
            _ => Self::Sites,
        }
    }

    /// The address's hash.
    #[must_use]
    pub fn to_hash(&self) -> String {
        match self {
            Self::Sites => "#/".to_owned(),
            Self::New => "#/new".to_owned(),
            Self::Settings => "#/settings".to_owned(),
            Self::Site(id, tab) => {
                let name = Tab::ALL.iter().find(|(t, _)| t == tab).map_or("plan", |(_, name)| name);
                format!("#/site/{id}/{name}")
            }
        }
    }
}

/// The current route. Copied freely; get it with [`Router::here`].
#[derive(Clone, Copy)]
pub struct Router(RwSignal<Route>);

const WHERE: &str = "where";

impl Router {
    /// Follows the address and provides the router as context. Opened without a hash, as from the
    /// home screen, it goes where the user was.
    pub fn provide() -> Self {
        let hash = hash();
        let start = if hash.is_empty() { device::remembered(WHERE).unwrap_or_default() } else { hash };
        let route = RwSignal::new(Route::from_hash(&start));
        let listener = window_event_listener(leptos::ev::hashchange, move |_| {
            let now = self::hash();
            device::remember(WHERE, &now);
            route.set(Route::from_hash(&now));
        });
        on_cleanup(move || listener.remove());
        if start != self::hash() {
            replace(&start);
        }
        provide_context(Self(route));
        Self(route)
    }

    /// The router.
    #[must_use]
    pub fn here() -> Self {
        expect_context()
    }

    /// Where the user is. Tracked.
    #[must_use]
    pub fn route(self) -> Route {
        self.0.get()
    }

    /// Goes there; the back button comes back.
    pub fn go(self, route: &Route) {
        let _ = window().location().set_hash(&route.to_hash());
    }

    /// Goes there in place of where the user is: the back button skips this place.
    pub fn go_instead(self, route: Route) {
        let hash = route.to_hash();
        device::remember(WHERE, &hash);
        replace(&hash);
        self.0.set(route);
    }
}

fn hash() -> String {
    window().location().hash().unwrap_or_default()
}

fn replace(hash: &str) {
    if let Ok(history) = window().history() {
        let _ = history.replace_state_with_url(&wasm_bindgen::JsValue::NULL, "", Some(hash));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_route_comes_back_from_its_hash() {
        let mut routes = vec![Route::Sites, Route::New, Route::Settings];
        routes.extend(Tab::ALL.map(|(tab, _)| Route::Site(SiteId("abc".to_owned()), tab)));
        for route in routes {
            assert_eq!(Route::from_hash(&route.to_hash()), route);
        }
    }

    #[test]
    fn nonsense_is_the_list_of_sites() {
        for hash in ["", "#", "#/nowhere", "#/site", "#/new/er", "#/settings/x"] {
            assert_eq!(Route::from_hash(hash), Route::Sites);
        }
        assert_eq!(Route::from_hash("#/site/x/what"), Route::Site(SiteId("x".to_owned()), Tab::Plan));
    }
}
