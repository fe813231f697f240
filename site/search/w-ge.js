bayleaf.words("ge",{"gear":"2:u;3:l","gears":"3:l"});
