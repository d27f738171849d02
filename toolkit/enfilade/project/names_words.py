"""Words that stand in names and name nobody alone, and surnames that are also words of the trade."""

from __future__ import annotations

from typing import Final

__all__ = [
    "CALENDAR",
    "FUNCTION",
    "NAMES_NOBODY",
    "ORDINARY",
    "PERSONAL",
    "PLACES",
    "ROLES",
    "STREETS",
    "TITLES",
    "as_words",
]


def as_words(text: str) -> frozenset[str]:
    """Return the words of a list that is written as text."""
    return frozenset(text.split())


TITLES: Final = as_words("""
dame dr lady lord madam messrs miss mlle mme mr mrs ms mx prof professor rev sir
""")

PARTICLES: Final = as_words("al bin da dal de del den der di dos du el ibn la le van von")
NAMES_NOBODY: Final = (
    PARTICLES
    | TITLES
    | as_words("""
address al and associates bin bros brother brothers builders building cabinetry cabinets client clients co company
construction contractors da daughter daughters de del den der design designer designs dos du e-mail el electric
electrical estate families family flooring gmbh group heating home house household ibn ii iii inc incorporated
interiors iv joinery jr kitchens la le lighting limited llc llp ltd mail maker manufacturing millwork number of
partner partners people person plc plumbing postcode private products residence saint services sister sisters someone
son sons sr st stoneworks studio studios supplies supply telephone the tiles trade trust van von woodwork woodworks
works workshop workshops
""")
)
"""Parts of names of people and firms that name nobody, and the words that stand for what is left out."""

ROLES: Final = as_words("""
diy gc hvac mep
address adviser alarm anybody anyone apprentice architect architects bespoke blacksmith builder builders carpenter
carpenters chief cleaner cleaners client clients consultant contractor contractors cook cooks crew custom dealer
decorator decorators designer designers electric electrical electrician electricians engineer engineers everybody
everyone existing fabricator fabricators factory family fire fitter fitters floor foreman gardener gas general glass
glazier guest guests hand head heating home house household housekeeper inspector installer installers joiner joiners
kitchen landlord layer layers letters lighting local made mail main maker makers manager manufacturer manufacturers
mason masons mechanic metal mill neighbor neighbors neighbour neighbours new nobody none number office old own owner
owners painter painters people person plasterer plasterers plumber plumbers postcode private quarry ready reclaimed
roof roofer salvaged seamstress self shop site slate somebody someone specialist steel stock stone studio
supplier suppliers surveyor sweep sweeps team technician telephone tenant tenants they tile tiler tilers timber trade
trades unknown upholsterer us various ventilation water we welder wood workshop yard
""")
"""Words by which those who do something are called without a name, and what a maker's field holds instead of one."""

CALENDAR: Final = as_words("""
april august december february friday january july june march may monday november october saturday september sunday
thursday tuesday wednesday
""")
STREETS: Final = as_words("""
alley ave avenue bend blvd boulevard circle close court crescent ct dr drive gardens gate green grove highway hill hwy
lane ln loop mews parkway path pike pl place quay rd rise road row sq square st street ter terrace trail turnpike walk
way wharf
""")
PLACES: Final = as_words("""
apartment apt block box building flat floor level no number p.o po room suite unit
""")
"""Words before a number in an address, which name no house."""

FUNCTION: Final = as_words("""
a about after all also although am an and any are as at be because been before being between both but by can could did
do does done down each either else even every few for from go had has have he her here hers him his how i if in into
is it its just last least less let like many may me might more most much must my near never next no nor not now of off
on once one only or other our out over own per she should since so some such than that the their them then there these
they this those though through to too two under until up upon us was we were what when where whether which while who
whom whose why will with within without would yes yet you your
""")
"""Words that carry a sentence: a name that is one of them is known only beside another part of the name."""

PERSONAL: Final = as_words("""
agreed agrees asked asks baked bakes begged begs believed believes called chose chooses complained cooked cooks decided
decides disagreed disliked drove eats explained explains hated hates heard hoped hopes insisted insists liked likes
loved loves paid prefers preferred promised proposed rang read reads refused regretted regrets remembers said sat says
sees signed sits slept smiled spoke suggested thinks thought told tells visited wanted wants wishes wished works worries
wrote writes
""")
"""What only people do: a surname before one of them is no ordinary word."""

OPENING: Final = as_words("""
again always apparently finally however indeed instead later lately maybe meanwhile nevertheless often ours perhaps
please sadly sometimes soon sorry therefore thanks today together tomorrow tonight usually welcome yesterday
""")
"""Words, beside those that carry a sentence, that begin one before a name."""

ORDINARY: Final = (
    CALENDAR
    | STREETS
    | as_words("""
abbey acre acres anchor angel apple apron arch archer ash aspen aster autumn baker ball banister bank banks bar barber
bark barker barley barn barrel base basil basin basket bath baths bay beach bead beam bean beans bear beech bell bench
berry bill birch bird bishop black blind block blue board boards bolt bond book booth border boulder bow bowl bowls
box boxer brass brick bricks bridge bright brook broom brown brush buck buckle bull burn bush butcher butler butter
button cabin cabinet cable candle cane cannon canvas card cards carpenter carver case cash castle cedar chair chamber
chambers chance chase cherry chest chestnut chip christmas church churn clay clear clerk cliff clock cloth coal cold
cole collar comb comfort cook cooker cooks cool cooper cope copper coral cord cork corner cotton counter cove cover
craft crane cream crisp cross crown cup cupboard curtain cutler cypress daisy dawn day days deck deep dial dice dish
dock door doors double dove down drain drake drawer drawers drew drum drummer eagle early earth east easter edge elder
elm ember end english evening ever evergreen fall falls farm farmer fast fern ferry field fields fig finch fine fir
fire fish fisher fitter flag flat fleet flint flood floor flour flower flowers fold ford forest forge fork forth
foster fountain fox frame free freeze french fresh friend frost fry fuller gable gardener garnet gates ginger glass
glazier glen glory gold golden good grain grand granite grant grass gravel gray grey grill grip guest gum half hall
ham hammer hand handle hands hardy hare harp harvest hatch haven hawk hawthorn hay hazel head heart hearth heat heath
heather hedge height herb hickory high hinge hive hob hold hole holly honey hood hook hope horn house hunt hunter ink
iris iron ironside island ivory ivy jack jade jar jet jewel joiner joint joist joy judge jug just keen keep keeper
kettle key keys kiln king kitchen knife knight knot lace ladder lake lamb lamp lamps land lantern larch large lark
lath lathe laurel lavender lead leaf leather ledge level lever light lights lily lime linden line linen link lintel
little lock locke loft long loom love low mantle maple marble mark marsh mason mast masters meadow meadows metal
middle mild miles mill miller mills mint mitre moon moor morning moss mount mountain myrtle nail neat nest new nickel
night noble nook noon north nut oak oaken oaks oat oil old olive only opal orange orchard oven page paint painter pale
palm palmer pan pane panel pantry paper paris parish park parker parlour partridge peach peacock pear pearl peat
pebble peg pepper perch pewter piece pier pin pine pink pipe piper pitch plain plane plank plant plaster plate plumb
plumber plume pole polish pond pool poplar porch porter post pot potter pound power price prime prince print proud
pull pump purple quarry queen quick quince quoin rabbit rack rail rain ramp range raven ray red redwood reed rest
ribbon rich ridge ring river rock roller roof roofer room root rope rose rosemary round rowan royal ruby rug rule rush
rust rusty rye sack saddle sage sail salmon salt sand sandal sandy sash savage saw sawyer scale school scullery sea
seal season seat self shade shaft shale sharp shed sheep shelf shell shelves shepherd shingle shop shore short shower
shutter sill silver sink sky skylight slate slater slide slim small smart smith smooth snow soap soft solid sorrel
south spade spar spark sparks spice spindle spire spoon spring springs spruce stable stack stage stain stair stairs
stamp star stark start state steam steel steep stem step stern stew still stock stone stones stool storage store
storey storm stove stow strap straw stream strong summer sun swallow swan sweep sweet swift switch sycamore table tack
tailor tall tan tanner tap tapper tar teak temple thatch thorn thread tide tile tiler till tin tong tool top torch
towel tower town trace track trap tray tree trim trivet trough true trunk turner turquoise twine twist upper upright
valance vale vane vault velvet vent vice view vine violet walker wall waller walls walnut ward warden ware warm water
waters wax weather weaver web weir weld well wells west wheat wheel wheeler white whitewash wick wide wild will willow
wind window winds wing winter wire wise wolf wood woods wool workman wright yard yarn yellow yew york young zest
""")
)
"""Surnames, given names and towns that are also words of the trade, of nature or of the calendar."""
