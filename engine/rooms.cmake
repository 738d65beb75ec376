# The table of arrows: each room of the engine, and the rooms it may include from.
# The build links by it, and tests/arrows checks every #include against it.
set(WHICHLINK_ROOMS
    "base:"
    "belief:base"
    "chain:base"
    "faults:base"
    "search:base"
    "upkeep:base"
    "moves:belief,chain,faults,base"
    "flat:search,moves,belief,chain,faults,base"
    "plan:flat,search,moves,belief,chain,faults,base"
    "guide:plan,flat,search,moves,belief,chain,faults,base"
    "chart:guide,plan,flat,search,moves,belief,chain,faults,base"
    "routine:guide,plan,flat,search,moves,belief,chain,faults,base"
    "record:guide,plan,flat,search,moves,belief,chain,faults,base"
    "simulate:moves,belief,chain,faults,base"
    "trial:simulate,guide,plan,flat,search,moves,belief,chain,faults,base"
    "drill:trial,simulate,guide,plan,flat,search,moves,belief,chain,faults,base"
    "history:drill,trial,simulate,upkeep,record,routine,guide,plan,flat,search,moves,belief,chain,faults,base"
    "draft:moves,belief,chain,faults,base"
    "stock:drill,trial,history,upkeep,record,routine,simulate,guide,plan,flat,search,moves,belief,chain,faults,base"
    "load:stock,drill,trial,history,upkeep,record,routine,simulate,guide,plan,flat,search,moves,belief,chain,faults,base"
    "render:chart,draft,stock,drill,trial,history,upkeep,record,routine,simulate,flat,search,guide,plan,moves,belief,chain,faults,base")
